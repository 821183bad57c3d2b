package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: a reading is given when the gauge is steady and only then, with an uncertainty that is true
 * of it. Method: fields as functions of time, one sample each hundredth of a second, seeded noise.
 */
class SettlingTest {

  private static final long START_AT_NS = 5_000_000_000L;
  private static final long PERIOD_NS = 10_000_000L;
  private static final double NOISE = 20e-6;

  private static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500e3, 0, Temperature.ofDegC(23), 0.001);

  private final SettlingRule rule = SettlingRule.reading(CALIBRATION, 0);

  @Test
  void quietFieldSettlesAfterTheShortestSpan() {
    Settling settling = run(rule, seconds -> 0.05, 49);
    assertThat(settling.settled()).isEmpty();
    assertThat(settling.outcome()).isInstanceOf(Settling.Outcome.Continues.class);

    SettledReading reading = run(rule, seconds -> 0.05, 60).settled().orElseThrow();

    assertThat(reading.value().tesla()).isCloseTo(0.05, within(1e-12));
    assertThat(reading.standardUncertainty().tesla())
        .as("the converter's step, rectangular")
        .isCloseTo(2e-6 / Math.sqrt(12), within(1e-9));
  }

  /** Coverage: of many readings about 95 per cent lie within two standard uncertainties. */
  @Test
  void uncertaintyIsTrueOfWhiteNoise() {
    int inside = 0;
    int runs = 1000;
    for (int seed = 0; seed < runs; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      SettledReading reading =
          run(rule, seconds -> -0.08 + NOISE * random.nextGaussian(), 1000).settled().orElseThrow();
      double miss = Math.abs(reading.value().tesla() + 0.08);
      inside += miss <= 2 * reading.standardUncertainty().tesla() ? 1 : 0;
      assertThat(reading.standardUncertainty().tesla())
          .as("seed %s, %s samples", seed, reading.samples())
          .isBetween(0.6 * NOISE / Math.sqrt(reading.samples()), 3e-5);
    }

    assertThat(inside).isBetween(930, 1000);
  }

  /**
   * Noise that is alike from sample to sample over a tenth of a second: the root of the number of
   * samples would claim three times too much.
   */
  @Test
  void uncertaintyCountsWanderInsideTheStretch() {
    int inside = 0;
    int runs = 500;
    for (int seed = 0; seed < runs; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      Wander wander = new Wander(random, 0.9, 15e-6);
      SettledReading reading =
          run(rule, seconds -> 0.03 + wander.next(), 1000).settled().orElseThrow();
      double miss = Math.abs(reading.value().tesla() - 0.03);
      inside += miss <= 2 * reading.standardUncertainty().tesla() ? 1 : 0;
    }

    assertThat(inside).as("of 500 within two standard uncertainties").isGreaterThan(425);
  }

  @Test
  void statedWanderIsCountedInFull() {
    SettlingRule wandering = SettlingRule.reading(CALIBRATION, 10e-6);

    SettledReading reading = run(wandering, seconds -> 0.05, 100).settled().orElseThrow();

    assertThat(reading.standardUncertainty().tesla()).isCloseTo(10e-6, within(1e-7));
    assertThat(reading.degreesOfFreedom()).isGreaterThan(1e6);
  }

  @Test
  void singleOutliersAreDropped() {
    SplittableRandom random = new SplittableRandom(7);
    DoubleUnaryOperator field =
        seconds -> {
          long sample = Math.round(seconds * 100);
          return sample % 25 == 7 ? 0.25 : 0.06 + NOISE * random.nextGaussian();
        };

    SettledReading reading = run(rule, field, 200).settled().orElseThrow();

    assertThat(reading.value().tesla()).isCloseTo(0.06, within(1.5e-5));
    assertThat(reading.standardUncertainty().tesla()).isLessThan(1e-5);
  }

  @Test
  void gaugeThatJumpsAllTheTimeDoesNotSettle() {
    SplittableRandom random = new SplittableRandom(8);
    Settling settling =
        run(rule, seconds -> random.nextInt(5) == 0 ? 0.25 : 0.06 + jitter(random), 1100);

    assertThat(why(settling)).contains("samples jumped; check the gauge's cable");
  }

  @ParameterizedTest
  @ValueSource(doubles = {5e-4, -5e-4, 2e-3})
  void steadyDriftBeyondTheLimitDoesNotSettle(double teslaPerSecond) {
    SplittableRandom random = new SplittableRandom(9);
    Settling settling =
        run(rule, seconds -> 0.05 + teslaPerSecond * seconds + jitter(random), 1100);

    assertThat(settling.settled()).isEmpty();
    assertThat(why(settling)).contains("it still moves by").contains("mT a second");
  }

  @Test
  void driftUnderTheLimitSettlesAndIsCounted() {
    SettledReading reading =
        run(rule, seconds -> 0.05 + 3e-5 * seconds, 100).settled().orElseThrow();

    // Half a second of 30 µT a second, rectangular.
    assertThat(reading.standardUncertainty().tesla())
        .isCloseTo(3e-5 * 0.5 / Math.sqrt(12), within(1e-6));
  }

  /** What is left of an exponential once its slope is under the limit is limit times constant. */
  @Test
  void transientIsWaitedOutAndLeftBehind() {
    int inside = 0;
    for (int seed = 0; seed < 100; seed++) {
      SplittableRandom random = new SplittableRandom(seed);
      DoubleUnaryOperator field =
          seconds -> 0.07 + 0.005 * Math.exp(-seconds / 0.3) + jitter(random);

      SettledReading reading = run(rule, field, 1000).settled().orElseThrow();

      double miss = Math.abs(reading.value().tesla() - 0.07);
      assertThat(miss).as("seed %s", seed).isLessThan(1e-4 * 0.3 + 1e-5);
      inside += miss <= 2 * reading.standardUncertainty().tesla() ? 1 : 0;
    }

    assertThat(inside).as("of 100 within two standard uncertainties").isGreaterThan(90);
  }

  @Test
  void slowSwingIsNotTakenForAMean() {
    Settling settling =
        run(rule, seconds -> 0.07 + 3e-4 * Math.sin(2 * Math.PI * 3 * seconds), 1100);

    assertThat(why(settling)).contains("too restless");
  }

  @Test
  void noiseTooLoudToSeeADriftLengthensTheStretchAndThenGivesUp() {
    SplittableRandom loud = new SplittableRandom(11);
    SettledReading reading =
        run(rule, seconds -> 0.05 + 1.5e-4 * loud.nextGaussian(), 1100).settled().orElseThrow();
    assertThat(reading.samples()).isGreaterThan(55);

    SplittableRandom hopeless = new SplittableRandom(12);
    Settling settling = run(rule, seconds -> 0.05 + 5e-3 * hopeless.nextGaussian(), 1100);
    assertThat(why(settling)).isNotBlank();
  }

  @Test
  void tooFewSamplesAreNoReading() {
    Settling settling = Settling.start(rule, START_AT_NS);
    for (int i = 1; i <= 11; i++) {
      settling = settling.with(0.05, START_AT_NS + i * 1_000_000_000L);
    }

    assertThat(why(settling)).isEqualTo("only 10 samples came; check the head's line");
  }

  @Test
  void stretchWithAGapIsNotJudged() {
    Settling settling = Settling.start(rule, START_AT_NS);
    for (int i = 0; i < 30; i++) {
      settling = settling.with(0.05, START_AT_NS + 600_000_000L + i * 1_000_000L);
    }

    assertThat(settling.outcome()).isInstanceOf(Settling.Outcome.Continues.class);
  }

  /** A new level at the end of the stretch is a step and no handful of outliers. */
  @Test
  void stepOfTheFieldIsNotTakenForOutliers() {
    Settling settling = run(rule, seconds -> seconds < 0.465 ? 0.05 : 0.0505, 50);
    assertThat(settling.settled()).isEmpty();

    SettledReading later =
        run(rule, seconds -> seconds < 0.465 ? 0.05 : 0.0505, 1000).settled().orElseThrow();
    assertThat(later.value().tesla()).isCloseTo(0.0505, within(1e-6));
  }

  @Test
  void endedSettlingIgnoresFurtherSamples() {
    Settling settled = run(rule, seconds -> 0.05, 100);

    Settling more = settled.with(0.2, Long.MAX_VALUE);

    assertThat(more.settled()).isEqualTo(settled.settled());
  }

  @Test
  void earlierSettlingIsUntouchedByLaterSamples() {
    Settling early = run(rule, seconds -> 0.05, 45);
    Settling one = early;
    Settling other = early;
    for (int i = 46; i <= 60; i++) {
      one = one.with(0.05, START_AT_NS + i * PERIOD_NS);
      other = other.with(0.09, START_AT_NS + i * PERIOD_NS);
    }

    assertThat(early.settled()).isEmpty();
    assertThat(one.settled()).isPresent();
    assertThat(other.settled()).isEmpty();
  }

  @Test
  void outcomeHasOneArmForEachEnd() {
    Settling settled = run(rule, seconds -> 0.05, 100);

    assertThat(settled.outcome().<String>match(c -> "more", s -> "reading", Object::toString))
        .isEqualTo("reading");
    assertThat(
            run(rule, seconds -> 0.05, 1)
                .outcome()
                .<String>match(c -> "more", s -> "reading", Object::toString))
        .isEqualTo("more");
  }

  @Test
  void refusesSamplesThatAreNoneOrOutOfOrder() {
    Settling settling = Settling.start(rule, START_AT_NS).with(0.05, START_AT_NS + 10);

    assertThatThrownBy(() -> settling.with(Double.NaN, START_AT_NS + 20))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> settling.with(0.05, START_AT_NS + 9))
        .hasMessageContaining("cannot follow");
  }

  @Test
  void refusesARuleThatContradictsItself() {
    assertThatThrownBy(() -> new SettlingRule(0, 1, 2, 1, 0, 0)).hasMessageContaining("span");
    assertThatThrownBy(() -> new SettlingRule(5, 4, 9, 1, 0, 0)).hasMessageContaining("span");
    assertThatThrownBy(() -> new SettlingRule(5, 6, 5, 1, 0, 0)).hasMessageContaining("give up");
    assertThatThrownBy(() -> new SettlingRule(5, 6, 9, Double.NaN, 0, 0))
        .hasMessageContaining("drift");
    assertThatThrownBy(() -> new SettlingRule(5, 6, 9, 1, -1, 0)).hasMessageContaining("drift");
  }

  @Test
  void zeroIsTakenInCounts() {
    SplittableRandom random = new SplittableRandom(13);
    Zeroing zeroing = Zeroing.start(SettlingRule.zero(CALIBRATION), START_AT_NS);
    for (int i = 1; i <= 100; i++) {
      zeroing = zeroing.with(Math.rint(-345 + 10 * random.nextGaussian()), at(i));
    }

    GaugeZero zero = zeroing.taken().orElseThrow();
    assertThat(zero.counts()).isCloseTo(-345, within(6.0));
    assertThat(zero.standardUncertaintyCounts()).isBetween(0.8, 4.0);
    assertThat(zero.samples()).isBetween(40, 60);
  }

  @Test
  void zeroThatDriftsIsNotTaken() {
    Zeroing zeroing = Zeroing.start(SettlingRule.zero(CALIBRATION), START_AT_NS);
    for (int i = 1; i <= 1000; i++) {
      zeroing = zeroing.with(2.0 * i, at(i));
    }

    assertThat(zeroing.taken()).isEmpty();
    assertThat(zeroing.outcome())
        .isEqualTo(new Zeroing.Outcome.NotTaken("it still moves by 200.0 counts a second"));
  }

  private static double jitter(SplittableRandom random) {
    return NOISE * random.nextGaussian();
  }

  private static long at(int sample) {
    return START_AT_NS + sample * PERIOD_NS;
  }

  private static Settling run(SettlingRule rule, DoubleUnaryOperator field, int samples) {
    Settling settling = Settling.start(rule, START_AT_NS);
    for (int i = 1; i <= samples; i++) {
      settling = settling.with(field.applyAsDouble(i * PERIOD_NS * 1e-9), at(i));
    }
    return settling;
  }

  private static String why(Settling settling) {
    return settling
        .outcome()
        .match(c -> "continues", s -> "settled", Settling.Outcome.Unsettled::why);
  }

  /** Noise with a memory: each sample keeps a part of the last (first-order autoregression). */
  private static final class Wander {
    private final SplittableRandom random;
    private final double kept;
    private final double sigma;
    private double now;

    Wander(SplittableRandom random, double kept, double sigma) {
      this.random = random;
      this.kept = kept;
      this.sigma = sigma;
      this.now = sigma * random.nextGaussian();
    }

    double next() {
      now = kept * now + sigma * Math.sqrt(1 - kept * kept) * random.nextGaussian();
      return now;
    }
  }
}
