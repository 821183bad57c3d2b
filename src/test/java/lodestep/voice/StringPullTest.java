package lodestep.voice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Against;
import lodestep.magnet.FluxSource;
import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.EigenDecompositionSymmetric;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.api.Test;

/** Goal: what a magnet does to a string has the sign and the size that is published. */
class StringPullTest {

  private static final Length SCALE = Length.ofMm(648);
  private static final SteelString HIGH_E = SteelString.plain(Length.ofMm(0.254), SCALE, 329.63);

  private static StringPull over(double tesla, double mm, double aside, double fromBridge) {
    Shape rod = new Shape.Rod(Length.ofMm(5), Length.ofMm(18));
    FluxSource magnet = rod.perTesla().times(tesla);
    return StringPull.of(magnet, 9e-3, mm * 1e-3, aside, HIGH_E, fromBridge);
  }

  /**
   * An estimate of ours by another program, of a round pole a quarter of the scale from the bridge.
   */
  @Test
  @Against(Against.Kind.COMPUTED)
  void agreesWithAnEarlierEstimate() {
    StringPull at3 = over(0.70, 3, 0, 0.25);

    assertThat(at3.fieldTesla()).isCloseTo(0.078, within(0.004));
    assertThat(at3.pullNewtons()).isCloseTo(0.93e-3, within(0.10e-3));
    assertThat(at3.cents()).isCloseTo(-0.69, within(0.12));
    assertThat(over(0.70, 2, 0, 0.25).cents()).isCloseTo(-2.2, within(0.4));
    assertThat(over(0.43, 3, 0, 0.25).cents()).isCloseTo(-0.26, within(0.05));
  }

  /**
   * Zollner, Physics of the Electric Guitar, 4.11.2, as quoted: the frequency falls. Feinberg, JASA
   * 2018, abstract: splitting of the order of a few hertz at worst on a high E string.
   */
  @Test
  @Against(Against.Kind.FROM_MEMORY)
  void makesTheStringFlatAndBeatByLessThanAFewHertz() {
    StringPull ordinary = over(0.75, 2.5, 0, 0.25);
    assertThat(ordinary.cents()).isBetween(-2.0, 0.0);
    assertThat(ordinary.alongHertz()).as("the swing beside the pole is stiffened").isPositive();

    StringPull worst = over(1.2, 1.0, 0, 0.25);
    assertThat(worst.acrossHertz()).isNegative();
    assertThat(worst.splittingHertz()).isBetween(1.0, 8.0);
  }

  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void goesByTheSquareOfTheField() {
    StringPull full = over(0.8, 3, 0, 0.25);
    StringPull less = over(0.56, 3, 0, 0.25);

    assertThat(less.cents() / full.cents()).isCloseTo(0.49, within(1e-3));
    assertThat(less.pullNewtons() / full.pullNewtons()).isCloseTo(0.49, within(1e-9));
    assertThat(full.times(0.7).acrossHertz()).isCloseTo(less.acrossHertz(), within(1e-9));
  }

  /** A mode moves most in the middle, and a pole close to the bridge does it next to nothing. */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void doesMoreUnderTheMiddleOfTheStringThanNearTheBridge() {
    double middle = over(0.7, 3, 0, 0.5).acrossHertz();
    double quarter = over(0.7, 3, 0, 0.25).acrossHertz();
    double bridge = over(0.7, 3, 0, 0.06).acrossHertz();

    // Rayleigh: by the square of the mode's sine.
    assertThat(quarter / middle).isCloseTo(0.5, within(0.01));
    double sine = Math.sin(0.06 * Math.PI);
    assertThat(bridge / middle).isCloseTo(sine * sine, within(0.01));
  }

  /** Rayleigh's principle against the eigenvalues of a chain of masses (Hipparchus). */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void movesAModeAsAChainOfMassesDoes() {
    StringPull pull = over(0.7, 3, 0, 0.25);
    double middle = over(0.7, 3, 0, 0.5).acrossHertz();
    // All its stiffness in one place, from the middle's, where a mode moves fully.
    double newtonsPerMetre =
        middle
            * 4
            * Math.PI
            * Math.PI
            * HIGH_E.hertz()
            * HIGH_E.kilogramsPerMetre()
            * SCALE.metres();
    int masses = 199;
    double piece = SCALE.metres() / (masses + 1);
    double mass = HIGH_E.kilogramsPerMetre() * piece;
    double spring = HIGH_E.tensionNewtons() / piece;

    double alone = lowest(masses, spring / mass, 0);
    double pulled = lowest(masses, spring / mass, newtonsPerMetre / mass);

    assertThat(alone).isCloseTo(HIGH_E.hertz(), within(0.05));
    assertThat(pulled - alone).isCloseTo(pull.acrossHertz(), within(0.02 * Math.abs(middle)));
  }

  /** Lowest frequency of masses between springs, one of them a quarter of the way held besides. */
  private static double lowest(int masses, double springs, double held) {
    RealMatrix chain = new Array2DRowRealMatrix(masses, masses);
    for (int at = 0; at < masses; at++) {
      chain.setEntry(at, at, 2 * springs + (at == masses / 4 ? held : 0));
      if (at > 0) {
        chain.setEntry(at, at - 1, -springs);
        chain.setEntry(at - 1, at, -springs);
      }
    }
    double[] squares = new EigenDecompositionSymmetric(chain).getEigenvalues();
    double least = java.util.Arrays.stream(squares).min().orElseThrow();
    return Math.sqrt(least) / (2 * Math.PI);
  }

  @Test
  void refusesWhatNoStringIs() {
    assertThatThrownBy(() -> over(0.7, 0.1, 0, 0.25)).hasMessageContaining("touches the pole");
    assertThatThrownBy(() -> over(0.7, 3, 0, 1.2)).hasMessageContaining("between the bridge");
    assertThatThrownBy(() -> over(40, 3, 0, 0.25)).hasMessageContaining("saturates");
    assertThatThrownBy(() -> SteelString.plain(Length.ofMm(0.05), SCALE, 330))
        .hasMessageContaining("diameter");
    assertThatThrownBy(() -> SteelString.plain(Length.ofMm(0.25), SCALE, 660))
        .hasMessageContaining("breaks");
    assertThatThrownBy(() -> SteelString.plain(Length.ofMm(0.25), SCALE, 60))
        .hasMessageContaining("slack");
    assertThatThrownBy(() -> SteelString.wound(Length.ofMm(0.4), Length.ofMm(0.39), SCALE, 150))
        .hasMessageContaining("no core");
  }
}
