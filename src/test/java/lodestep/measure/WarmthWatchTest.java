package lodestep.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Goal: a magnet that is warm is told from a gauge that only wanders. */
class WarmthWatchTest {

  private static final long LINE_NS = 10_000_000L;

  /** A gauge of 20 µT a line that wanders by 10 µT a minute, as the virtual one does. */
  private static WarmthWatch watched(double teslaPerSecond, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    WarmthWatch watch = WarmthWatch.NONE;
    double wander = 0;
    for (int line = 0; line <= 1200; line++) {
      wander += 10e-6 / Math.sqrt(6000) * random.nextGaussian();
      double value = 0.0385 + wander + teslaPerSecond * line * 0.01 + 20e-6 * random.nextGaussian();
      watch = watch.with(value, 7_000_000_000L + line * LINE_NS);
    }
    return watch;
  }

  @Test
  void warmMagnetIsToldWithItsDrift() {
    for (long seed = 1; seed <= 200; seed++) {
      assertThat(watched(-4e-6, seed).drift().orElseThrow()).isCloseTo(-4e-6, within(2e-6));
    }
  }

  /** By hand: the wander makes 0.41 µT a second over 12 s, so 1.5 µT is exceeded once in 4000. */
  @Test
  void gaugeThatOnlyWandersIsHardlyEverTakenForAWarmMagnet() {
    int taken = 0;
    for (long seed = 1; seed <= 1000; seed++) {
      taken += watched(0, seed).drift().isPresent() ? 1 : 0;
    }
    assertThat(taken).isLessThan(10);
  }

  @Test
  void nothingIsSaidBeforeItHasBeenWatched() {
    WarmthWatch watch = WarmthWatch.NONE;
    for (int line = 0; line < 1199; line++) {
      watch = watch.with(0.04 - 1e-5 * line, line * LINE_NS);
    }
    assertThat(watch.over()).isFalse();
    assertThat(watch.drift()).isEmpty();
  }
}
