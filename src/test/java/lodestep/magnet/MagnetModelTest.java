package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.quantity.FieldStrength;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;

/**
 * Goal: the memory of the model is that of a Preisach magnet on its load line. Method: properties
 * over alloys, shape factors and pulse series, and an independent integration of single switches.
 */
class MagnetModelTest {

  private static final double MU0 = 4e-7 * Math.PI;
  private static final double PEAK_MAX = 400e3;

  private static final List<Hysteresis> LOOPS =
      AlloyBook.standard().alloys().stream().map(Hysteresis::of).toList();

  @Provide
  Arbitrary<MagnetModel> models() {
    Arbitrary<Double> factors = Arbitraries.doubles().between(0, 0.9);
    return Combinators.combine(Arbitraries.of(LOOPS), factors).as(MagnetModel::new);
  }

  @Provide
  Arbitrary<List<Double>> series() {
    return Arbitraries.doubles().between(-PEAK_MAX, PEAK_MAX).list().ofMaxSize(12);
  }

  /** Wiping-out: what came before a pulse as strong as all the rest together leaves no trace. */
  @Property(tries = 300)
  void strongestPulseWipesOutAllBefore(
      @ForAll("models") MagnetModel model,
      @ForAll("series") List<Double> before,
      @ForAll("series") List<Double> after) {
    MagnetState history = after(model, model.uncharged(), before);
    MagnetState fresh = model.uncharged();

    MagnetState one = after(model, pulse(model, history, PEAK_MAX), after);
    MagnetState other = after(model, pulse(model, fresh, PEAK_MAX), after);

    assertThat(one).isEqualTo(other);
    assertThat(one.turns()).isEqualTo(other.turns());
  }

  /** Return-point memory: no reverse pulse weaker than the last one moves the magnet. */
  @Property(tries = 500)
  void weakerPulsesDoNotMoveAKnockedDownMagnet(
      @ForAll("models") MagnetModel model,
      @ForAll @DoubleRange(min = 1e3, max = 200e3) double knockDown,
      @ForAll @Size(max = 8) List<@DoubleRange(min = 0, max = 1) Double> fractions) {
    MagnetState down = pulse(model, pulse(model, model.uncharged(), PEAK_MAX), -knockDown);

    MagnetState proved = down;
    for (double fraction : fractions) {
      proved = pulse(model, proved, -fraction * knockDown);
    }

    assertThat(model.polarisationTesla(proved))
        .isCloseTo(model.polarisationTesla(down), within(1e-7));
    assertThat(proved).as("to the last bit").isEqualTo(down);
  }

  @Property(tries = 500)
  void sameForwardPulseChangesAChargedMagnetOnlyOnce(
      @ForAll("models") MagnetModel model,
      @ForAll("series") List<Double> before,
      @ForAll @DoubleRange(min = 1e3, max = 400e3) double peak) {
    MagnetState once = pulse(model, after(model, model.uncharged(), before), peak);

    assertThat(pulse(model, once, peak)).isEqualTo(once);
  }

  @Property(tries = 500)
  void strongerReversePulseLeavesLess(
      @ForAll("models") MagnetModel model,
      @ForAll("series") List<Double> before,
      @ForAll @DoubleRange(min = 1, max = 399e3) double weaker,
      @ForAll @DoubleRange(min = 1, max = 1e3) double more) {
    MagnetState state = after(model, model.uncharged(), before);
    double stronger = weaker + more;

    double afterWeaker = model.polarisationTesla(pulse(model, state, -weaker));
    double afterStronger = model.polarisationTesla(pulse(model, state, -stronger));

    assertThat(afterStronger).isLessThanOrEqualTo(afterWeaker + 1e-9);
    assertThat(afterWeaker).isLessThanOrEqualTo(model.polarisationTesla(state) + 1e-9);
  }

  /** Growing reverse pulses lead to where the largest alone leads: the planner lives on it. */
  @Property(tries = 300)
  void largestReversePulseAloneDecides(
      @ForAll("models") MagnetModel model,
      @ForAll @Size(min = 1, max = 8) List<@DoubleRange(min = 1, max = 150e3) Double> peaks) {
    MagnetState charged = pulse(model, model.uncharged(), PEAK_MAX);
    MagnetState series = charged;
    double largest = 0;
    for (double peak : peaks) {
      series = pulse(model, series, -peak);
      largest = Math.max(largest, peak);
    }

    assertThat(series).isEqualTo(pulse(model, charged, -largest));
  }

  @Property(tries = 300)
  void isTheSameWithBothSignsTurnedRound(
      @ForAll("models") MagnetModel model, @ForAll("series") List<Double> peaks) {
    MagnetState one = after(model, model.uncharged(), peaks);
    MagnetState other = after(model, model.uncharged(), peaks.stream().map(p -> -p).toList());

    assertThat(model.polarisationTesla(other))
        .isCloseTo(-model.polarisationTesla(one), within(1e-9));
    assertThat(model.polarisationTesla(one.turnedOver())).isEqualTo(-model.polarisationTesla(one));
  }

  @Property(tries = 300)
  void turningAMagnetOverKeepsItsMemory(
      @ForAll("models") MagnetModel model,
      @ForAll("series") List<Double> before,
      @ForAll("series") List<Double> after) {
    MagnetState state = after(model, model.uncharged(), before);

    MagnetState turned = after(model, state.turnedOver(), after.stream().map(p -> -p).toList());

    assertThat(model.polarisationTesla(turned))
        .isCloseTo(-model.polarisationTesla(after(model, state, after)), within(1e-9));
    assertThat(state.turnedOver().turnedOver()).isEqualTo(state);
  }

  @Property(tries = 300)
  void polarisationAtZeroFieldNeverPassesTheRemanence(
      @ForAll("models") MagnetModel model, @ForAll("series") List<Double> peaks) {
    double remanence = model.loop().descendingTesla(0);

    double polarisation = model.polarisationTesla(after(model, model.uncharged(), peaks));

    assertThat(Math.abs(polarisation)).isLessThanOrEqualTo(remanence + 1e-9);
    assertThat(remanence).isLessThanOrEqualTo(model.loop().saturationTesla());
  }

  /** The load line itself, solved here by plain bisection on the descending branch. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Property(tries = 200)
  void chargedMagnetSitsOnItsLoadLine(@ForAll("models") MagnetModel model) {
    double low = -2e6;
    double high = 0;
    for (int i = 0; i < 100; i++) {
      double middle = 0.5 * (low + high);
      double applied =
          middle + model.demagnetisingFactor() * model.loop().descendingTesla(middle) / MU0;
      low = applied < 0 ? middle : low;
      high = applied < 0 ? high : middle;
    }

    assertThat(model.chargedPolarisationTesla())
        .isCloseTo(model.loop().descendingTesla(low), within(1e-9));
  }

  /**
   * Independent of the Everett function: a Preisach plane of single switches, one for each cell of
   * a grid, with the weight of its density by central differences, driven by the net field.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void agreesWithAPlaneOfSingleSwitches() {
    Hysteresis loop = new Hysteresis(1.0, 50e3, 15e3, 0);
    MagnetModel model = new MagnetModel(loop, 0);
    SwitchPlane plane = new SwitchPlane(loop, 200e3, 800);
    double[] peaks = {90e3, -40e3, 60e3, -55e3, 20e3, -70e3};

    MagnetState state = model.uncharged();
    for (double peak : peaks) {
      state = pulse(model, state, peak);
      plane.drive(peak);
      plane.drive(0);
      assertThat(model.polarisationTesla(state))
          .as("after %s A/m", peak)
          .isCloseTo(plane.polarisation(), within(0.01));
    }
  }

  @Test
  void unchargedMagnetHasNoPolarisation() {
    MagnetModel model = new MagnetModel(LOOPS.get(0), 0.2);

    assertThat(model.polarisationTesla(model.uncharged())).isZero();
    assertThat(model.uncharged().isUncharged()).isTrue();
    assertThat(pulse(model, model.uncharged(), 0).isUncharged()).isTrue();
    assertThat(pulse(model, model.uncharged(), 1).isUncharged()).isFalse();
  }

  /** IEC 60404-5 (from memory): saturated when half as much field again adds less than 1 %. */
  @Against(Against.Kind.FROM_MEMORY)
  @Test
  void saturatingFieldSaturates() {
    for (Alloy alloy : AlloyBook.standard().alloys()) {
      MagnetModel model = new MagnetModel(Hysteresis.of(alloy), 0.15);
      double applied = model.saturatingApplied(alloy.saturatingField()).amperesPerMetre();

      double charged = model.polarisationTesla(pulse(model, model.uncharged(), applied));
      double harder = model.polarisationTesla(pulse(model, model.uncharged(), 1.5 * applied));

      assertThat(harder / charged - 1).as(alloy.name()).isBetween(-1e-9, 0.01);
    }
  }

  @Test
  void fallingAlternatingPulsesDemagnetise() {
    MagnetModel model = new MagnetModel(LOOPS.get(3), 0.12);
    MagnetState state = pulse(model, model.uncharged(), PEAK_MAX);
    double peak = -PEAK_MAX;
    while (Math.abs(peak) > 1e3) {
      state = pulse(model, state, peak);
      peak *= -0.95;
    }

    assertThat(Math.abs(model.polarisationTesla(state))).isLessThan(0.01);
    assertThat(state.turns()).isGreaterThan(100);
  }

  /**
   * Computed beforehand with a uniform magnetisation for a rod of 5 x 17 mm of alnico 5 at a
   * reverse field of 50 kA/m: on taking the field away about a quarter of the drop comes back.
   */
  @Against(Against.Kind.COMPUTED)
  @Test
  void recoilGivesBackAQuarterOfTheDropOfAnAlnico5Rod() {
    Hysteresis loop = Hysteresis.of(HysteresisTest.trial(1.2252, 51.0, 51.4, 40.0, 3.3));
    MagnetModel model = new MagnetModel(loop, 0.114128);
    double charged = model.chargedPolarisationTesla();
    double after = model.polarisationTesla(pulse(model, chargedState(model), -50e3));
    double during = descendingUnder(model, -50e3);

    assertThat((after - during) / (charged - during)).isCloseTo(0.24, within(0.03));
  }

  @Test
  void refusesAFactorThatNoBodyHas() {
    for (double wrong : List.of(-0.01, 1.01, Double.NaN)) {
      assertThatThrownBy(() -> new MagnetModel(LOOPS.get(0), wrong))
          .hasMessageContaining("demagnetising factor out of range 0 to 1");
    }
  }

  private static MagnetState chargedState(MagnetModel model) {
    return pulse(model, model.uncharged(), PEAK_MAX);
  }

  private static double descendingUnder(MagnetModel model, double applied) {
    double low = -2e6;
    double high = 2e6;
    for (int i = 0; i < 100; i++) {
      double middle = 0.5 * (low + high);
      double there =
          middle + model.demagnetisingFactor() * model.loop().descendingTesla(middle) / MU0;
      low = there < applied ? middle : low;
      high = there < applied ? high : middle;
    }
    return model.loop().descendingTesla(low);
  }

  private static MagnetState after(MagnetModel model, MagnetState from, List<Double> peaks) {
    MagnetState state = from;
    for (double peak : peaks) {
      state = pulse(model, state, peak);
    }
    return state;
  }

  private static MagnetState pulse(MagnetModel model, MagnetState state, double peak) {
    return model.afterPulse(state, new FieldStrength(peak));
  }

  /** Relays of the Preisach plane, switching up at one field and down at a lower one. */
  private static final class SwitchPlane {
    private final double[] levels;
    private final double[][] weights;
    private final boolean[][] up;

    SwitchPlane(Hysteresis loop, double reach, int cells) {
      levels = new double[cells];
      weights = new double[cells][cells];
      up = new boolean[cells][cells];
      double step = 2 * reach / cells;
      for (int i = 0; i < cells; i++) {
        levels[i] = -reach + (i + 0.5) * step;
      }
      for (int i = 0; i < cells; i++) {
        for (int j = 0; j <= i; j++) {
          double density =
              slope(loop, levels[i]) * slope(loop, -levels[j])
                  - slope(loop, -levels[i]) * slope(loop, levels[j]);
          weights[i][j] = Math.max(0, 2 * loop.saturationTesla() * density) * step * step;
          // The uncharged plane: divided along the line of switches centred on zero field.
          up[i][j] = levels[i] + levels[j] < 0;
        }
      }
    }

    private static double slope(Hysteresis loop, double field) {
      double cosh = Math.cosh((field - loop.centreAmperesPerMetre()) / loop.widthAmperesPerMetre());
      return 0.5 / (cosh * cosh * loop.widthAmperesPerMetre());
    }

    void drive(double field) {
      for (int i = 0; i < levels.length; i++) {
        for (int j = 0; j <= i; j++) {
          up[i][j] = field >= levels[i] || (field > levels[j] && up[i][j]);
        }
      }
    }

    double polarisation() {
      double sum = 0;
      for (int i = 0; i < levels.length; i++) {
        for (int j = 0; j <= i; j++) {
          // Each switch turns from minus to plus: half its change either way.
          sum += (up[i][j] ? 0.5 : -0.5) * weights[i][j];
        }
      }
      return sum;
    }
  }
}
