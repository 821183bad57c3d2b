package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: no law is broken by the whole host on a rig that breaks, is mishandled, killed and cut off.
 * Method: a slice of the seeds of "lodestep soak", always the same ones; a longer one is that
 * command's.
 */
class SoakRunTest {

  /** Some ten seconds of one core; the number is bounded and never the time. */
  private static final long SLICE = 240;

  @Test
  void breaksNoRuleInTheSlice() {
    Tally tally = new Tally();
    for (long seed = 1; seed <= SLICE; seed++) {
      tally.add(SeedWork.of(Soaks.SETTINGS, seed, Soaks.PLAN));
    }

    assertThat(tally.failed()).extracting(SavedRun::written).isEmpty();
    assertThat(tally.problems()).isEmpty();
    assertThat(tally.seeds()).isEqualTo(SLICE);
    assertThat(tally.all().pulses()).as("pulses fired").isGreaterThan(1_000);
    assertThat(tally.all().accepted()).as("magnets accepted").isGreaterThan(100);
    assertThat(tally.trips().size()).as("causes that tripped").isGreaterThan(15);
    assertThat(SoakRig.COIL.kinds().stream().filter(kind -> !everMet(tally, kind)))
        .as("kinds that never happened")
        .isEmpty();
    assertThat(tally.all().permitGoneMs()).as("permit gone after a death").isBetween(200L, 250L);
  }

  private static boolean everMet(Tally tally, HappeningKind kind) {
    return Arrays.stream(RigState.values()).anyMatch(state -> tally.met(kind, state) > 0);
  }

  @ParameterizedTest
  @ValueSource(longs = {7, 8, 51, 1_000_003})
  void comesToTheSameBytesTwice(long seed) {
    RunResult once = SoakRun.of(Soaks.SETTINGS, seed);
    RunResult again = SoakRun.of(Soaks.SETTINGS, seed);

    assertThat(again).isEqualTo(once);
    assertThat(SoakRun.of(Soaks.SETTINGS, seed + 1).end()).isNotEqualTo(once.end());
  }

  @Test
  void findsEveryCanary() {
    for (int index = 0; index < SeedWork.CANARIES.size(); index++) {
      SeedReport report = SeedWork.of(Soaks.SETTINGS, 100L * index, Soaks.PLAN);

      assertThat(report.problem()).isEmpty();
      assertThat(report.canary()).contains(SeedWork.CANARIES.get(index));
    }
  }

  @Test
  void callsATripOfASoundRigANuisance() {
    Happening lid = new Happening(HappeningKind.STOP_ASKED, 9_000, 100, "", 0);
    Script notQuiet = new Script(12_000, List.of(lid));

    RunResult run = new World(Soaks.SETTINGS, 3, notQuiet, Planted.NOTHING).playQuiet();

    assertThat(run.violation()).map(Violation::rule).contains("NUI");
  }
}
