package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;

/**
 * Goal: the word "stop" comes early enough on any curve, and the work comes to its end. Method: a
 * curve of a magnet is a falling function of how near the opposing magnet came; the pull seen is
 * stray field plus what came down for good.
 */
class HandAimTest {

  private static final double FULL = 0.07;

  private static HandProgress progress(List<HandProgress.Pass> passes, double late) {
    return new HandProgress(
        Optional.empty(),
        Optional.empty(),
        passes,
        Optional.empty(),
        late,
        0,
        HandSaturation.NONE,
        HandProgress.Counts.NONE);
  }

  /** A curve that is flat up to its bend and falls off steeply beyond. */
  private static double level(double near, double bend, double steepness) {
    return FULL / (1 + Math.pow(near / bend, steepness));
  }

  /** How near the hand is when pull reaches the stop: stray field and what came down are one. */
  private static double nearAt(double stop, double base, double bend, double steepness) {
    double low = 0;
    double high = 1;
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      double pull = middle + Math.max(0, base - level(middle, bend, steepness));
      if (pull < stop) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return high;
  }

  @Property(tries = 300)
  void reachesTheBandOfAnyCurveWithoutFallingBelow(
      @ForAll @DoubleRange(min = 4, max = 40) double bendMilliTesla,
      @ForAll @DoubleRange(min = 2, max = 30) double steepness,
      @ForAll @DoubleRange(min = 0.2, max = 0.9) double part) {
    double bend = bendMilliTesla * 1e-3;
    double target = part * FULL;
    double tolerance = 0.03 * target;
    double goal = target + 0.3 * tolerance;
    List<HandProgress.Pass> passes = new ArrayList<>();
    double base = level(0, bend, steepness);
    double nearest = 0;
    int approaches = 0;
    while (base > target + tolerance) {
      double stop = HandAim.stopTesla(progress(passes, 0), base, goal);
      nearest = Math.max(nearest, nearAt(stop, base, bend, steepness));
      base = Math.min(base, level(nearest, bend, steepness));
      passes.add(new HandProgress.Pass(nearest, base));
      approaches++;
      assertThat(approaches).isLessThan(60);
    }
    assertThat(base).isGreaterThan(target - tolerance);
  }

  @Test
  void stopsEarlierForAHandThatComesLate() {
    List<HandProgress.Pass> passes = List.of(new HandProgress.Pass(0.01, 0.06));

    double quick = HandAim.stopTesla(progress(passes, 0), 0.06, 0.05);
    double slow = HandAim.stopTesla(progress(passes, 0.002), 0.06, 0.05);

    assertThat(quick - slow).isBetween(0.00199, 0.00201);
  }

  @Test
  void learnsHowLateAHandIs() {
    HandProgress.Pass flat = new HandProgress.Pass(0.012, 0.06);
    double once = HandAim.lateTesla(progress(List.of(), 0), flat, 0.01, 0.012);

    assertThat(once).isBetween(0.00099, 0.00101);
    assertThat(HandAim.lateTesla(progress(List.of(), once), flat, 0.01, 0.009)).isLessThan(once);
    assertThat(HandAim.lateTesla(progress(List.of(), 0), flat, 0.01, 0.9))
        .as("a slip is no habit")
        .isLessThan(0.002);
  }

  @Test
  void countsTheSameLatenessMoreWhereTheCurveIsSteep() {
    HandProgress.Pass before = new HandProgress.Pass(0.010, 0.06);
    List<HandProgress.Pass> flat = List.of(before, new HandProgress.Pass(0.012, 0.06));
    List<HandProgress.Pass> steep = List.of(before, new HandProgress.Pass(0.012, 0.05));

    assertThat(HandAim.stopTesla(progress(steep, 0.0005), 0.05, 0.0499))
        .isLessThan(HandAim.stopTesla(progress(flat, 0.0005), 0.05, 0.0499));
    assertThat(HandAim.lateTesla(progress(List.of(before), 0), steep.get(1), 0.01, 0.013))
        .as("in stray field a steep curve's overshoot is small")
        .isLessThan(0.0003);
  }

  @Test
  void provesFromALittleLessNear() {
    List<HandProgress.Pass> passes =
        List.of(new HandProgress.Pass(0.01, 0.06), new HandProgress.Pass(0.02, 0.05));

    assertThat(HandAim.proofTesla(progress(passes, 0))).isBetween(0.0169, 0.0171);
  }
}
