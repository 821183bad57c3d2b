package lodestep.voice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.magnet.Against;
import lodestep.quantity.Length;
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
