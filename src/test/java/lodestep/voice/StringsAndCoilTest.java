package lodestep.voice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Against;
import lodestep.quantity.Length;
import org.hipparchus.complex.Complex;
import org.junit.jupiter.api.Test;

/** Goal: strings are tuned by Mersenne's law, and a coil rings where the textbooks say. */
class StringsAndCoilTest {

  /** Mersenne's law with figures of the estimate for a 0.254 mm string: 72.6 N at 329.6 Hz. */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void tunesByMersennesLaw() {
    SteelString string = SteelString.plain(Length.ofMm(0.254), Length.ofMm(648), 329.6);
    assertThat(string.tensionNewtons()).isCloseTo(72.6, within(0.3));
  }

  /**
   * The worked example of a guitar's wave speed in OpenStax, University Physics 1, 16.3: a string
   * of 0.309 g/m under 56.40 N, of which the question was read; its answer, 427.23 m/s, is from
   * memory. A string swings once while a wave goes there and back.
   */
  @Test
  @Against(Against.Kind.FROM_MEMORY)
  void tunesAsTheWorkedExampleSays() {
    Length scale = Length.ofMm(648);
    double thick = Math.sqrt(4 * 3.09e-4 / (Math.PI * SteelString.STEEL_KG_PER_CUBIC_METRE));
    SteelString string = SteelString.plain(new Length(thick), scale, 427.23 / (2 * scale.metres()));

    assertThat(string.kilogramsPerMetre()).isCloseTo(3.09e-4, within(1e-9));
    assertThat(string.tensionNewtons()).isCloseTo(56.40, within(0.005));
  }

  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void readsASetAsWritten() {
    StringSet usual = StringSet.read(StringSet.USUAL, Length.ofMm(640));

    assertThat(usual.tuned()).extracting(StringSet.Tuned::note).startsWith("E4").endsWith("E2");
    // ISO 16 and equal temperament: E4 is seven semitones below B4, five above B3; 329.63 Hz.
    assertThat(usual.tuned().get(0).string().hertz()).isCloseTo(329.63, within(0.01));
    assertThat(usual.tuned().get(5).string().hertz()).isCloseTo(82.41, within(0.01));
    // Sets are made so that the strings pull about alike. Common practice, no source.
    assertThat(usual.tuned())
        .allSatisfy(each -> assertThat(each.string().tensionNewtons()).isBetween(50.0, 140.0));
    assertThat(StringSet.read("0.3 bb3", Length.ofMm(640)).tuned().get(0).string().hertz())
        .isCloseTo(233.08, within(0.01));
  }

  @Test
  void namesTheStringThatIsNone() {
    Length scale = Length.ofMm(640);
    assertThatThrownBy(() -> StringSet.read("0.25 E4; fat", scale)).hasMessageContaining("'fat'");
    assertThatThrownBy(() -> StringSet.read("0.25 E7", scale))
        .hasMessageStartingWith("E7: ")
        .hasMessageContaining("breaks");
    assertThatThrownBy(() -> StringSet.read("0.66/0.7 D3", scale)).hasMessageStartingWith("D3: ");
  }

  /**
   * Textbook series circuit: with no load, resonance at 1/(2&pi;&radic;(LC)), and there the gain is
   * the quality &radic;(L/C)/R. 1 H, 1 nF, 1000 ohm: 5032.9 Hz, 31.6.
   */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void ringsWhereTheTextbookSays() {
    CoilCircuit coil = new CoilCircuit(1, 1_000, 1e-9, 1e8);

    assertThat(coil.resonanceHertz()).isCloseTo(5_032.9, within(0.1));
    // The load of 100 megohm takes a hundredth of the quality.
    assertThat(coil.gain(coil.resonanceHertz())).isCloseTo(31.62 / 1.01, within(0.02));
    assertThat(coil.gain(0)).isCloseTo(1, within(1e-4));
  }

  /** The peak in closed form against a search along the curve. */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void findsThePeakOfItsCurve() {
    CoilCircuit coil = new CoilCircuit(3.4, 6_900, 640e-12, 210e3);
    double best = 0;
    for (double hertz = 10; hertz < 20_000; hertz += 0.5) {
      best = coil.gain(hertz) > coil.gain(best) ? hertz : best;
    }

    assertThat(coil.peakHertz()).isCloseTo(best, within(0.5));
    assertThat(coil.decibels(coil.peakHertz())).isPositive();
    CoilCircuit damped = new CoilCircuit(3.4, 6_900, 640e-12, 12e3);
    assertThat(damped.peakHertz()).as("no peak").isZero();
  }

  /**
   * With a resistance across the capacitance alone and no loss in the coil, the textbook's quality
   * of the parallel load is R/&radic;(L/C), and the gain at resonance is that quality. Law, no
   * published figure: 1 H, 1 nF, 316.23 kilohm give 10; the coil's 50 ohm take a sixtieth.
   */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void isDampedByItsLoadAsAParallelCircuit() {
    double load = 10 * Math.sqrt(1 / 1e-9);
    CoilCircuit coil = new CoilCircuit(1, 50, 1e-9, load);

    assertThat(coil.gain(coil.resonanceHertz()))
        .isCloseTo(10 / (1 + 10 * 50 / 31_623.0), within(0.02));
  }

  /**
   * A loaded coil is a ladder of two reactances between a source and a load, of which tables are
   * published. Equal ripple of 0.1 dB, two elements, source 1: inductance 0.8431, capacitance
   * 0.6220, load 1/0.7378, for 1 rad/s (table of Chebyshev low-pass prototype values, read in a
   * copy on the web; the same in G. L. Matthaei, L. Young, E. M. T. Jones, Microwave Filters). Its
   * peak is the ripple, where the squared frequency is half of the edge's, and at the edge it is
   * back at what low notes have. Scaled to 9 kohm and 3.2 kHz.
   */
  @Test
  @Against(Against.Kind.READ)
  void aLoadedCoilPeaksAsThePublishedLadderDoes() {
    CoilCircuit coil = ladder(0.8431, 0.6220, 1 / 0.7378);

    assertThat(coil.peakHertz()).isCloseTo(EDGE_HERTZ / Math.sqrt(2), within(1.0));
    assertThat(coil.decibels(coil.peakHertz())).isCloseTo(0.1, within(0.001));
    assertThat(coil.decibels(EDGE_HERTZ)).isCloseTo(0, within(0.001));
    // Beyond the edge: 10 log(1 + e2 (2 x^2 - 1)^2) below the ripple's top, e2 = 10^0.01 - 1.
    double ripple = Math.pow(10, 0.01) - 1;
    double polynomial = 2 * 3 * 3 - 1;
    assertThat(coil.decibels(3 * EDGE_HERTZ))
        .isCloseTo(0.1 - 10 * Math.log10(1 + ripple * polynomial * polynomial), within(0.002));
  }

  /** The flattest such ladder, both elements of root two and both ends alike, has no peak. */
  @Test
  @Against(Against.Kind.FROM_MEMORY)
  void aLoadedCoilIsFlatWhereTheFlattestLadderIs() {
    CoilCircuit flat = new CoilCircuit(0.9, 12e3, 0.9 / (12e3 * 12e3), 12e3);

    assertThat(flat.peakHertz()).as("nothing above low notes").isLessThan(1);
    double edge = Math.sqrt(2) * 12e3 / (2 * Math.PI * 0.9);
    assertThat(flat.decibels(edge)).isCloseTo(-10 * Math.log10(2), within(1e-6));
    assertThat(flat.decibels(2 * edge)).isCloseTo(-10 * Math.log10(17), within(1e-6));
  }

  private static final double EDGE_HERTZ = 3_200;

  private static CoilCircuit ladder(double inductance, double capacitance, double load) {
    double omega = 2 * Math.PI * EDGE_HERTZ;
    return new CoilCircuit(inductance * 9e3 / omega, 9e3, capacitance / (9e3 * omega), load * 9e3);
  }

  /**
   * Coil, cable and load solved node by node with complex admittances (J. W. Nilsson, S. A. Riedel,
   * Electric Circuits, node-voltage method; from memory) and Hipparchus' complex numbers.
   */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void aLoadedCoilIsThatOfTheNodeVoltageMethod() {
    CoilCircuit coil = new CoilCircuit(3.4, 6_900, 640e-12, 210e3);
    for (double hertz = 50; hertz < 20_000; hertz *= 1.3) {
      double omega = 2 * Math.PI * hertz;
      Complex through = new Complex(6_900, omega * 3.4).reciprocal();
      Complex across = new Complex(1 / 210e3, omega * 640e-12);

      double theirs = through.divide(through.add(across)).norm();

      assertThat(coil.gain(hertz)).isCloseTo(theirs, within(1e-12));
    }
  }

  @Test
  void refusesACoilThatNobodyWinds() {
    assertThatThrownBy(() -> new CoilCircuit(0, 7_000, 1e-9, 1e6))
        .hasMessageContaining("inductance");
    assertThatThrownBy(() -> new CoilCircuit(3, Double.NaN, 1e-9, 1e6))
        .hasMessageContaining("resistance");
  }

  @Test
  @Against(Against.Kind.COMMON_PRACTICE)
  void tellsCustomOnlyAsCustom() {
    assertThat(LevelHeard.ofLevel(0.95)).contains("bright");
    assertThat(LevelHeard.ofLevel(0.5)).contains("warmer", "sustain");
    assertThat(LevelHeard.together(0.5, 2)).contains("civil");
    assertThat(LevelHeard.together(0.5, 6)).contains("darker");
    assertThatThrownBy(() -> LevelHeard.ofLevel(1.2)).hasMessageContaining("part");
  }
}
