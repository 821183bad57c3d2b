package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;

/**
 * Goal: whatever comes in, in whatever order, the interlocks answer, and their answer keeps the
 * rules that hold always. Method: long random walks over contacts, flags, levels and figures; the
 * seed stands in the failure message.
 */
class TotalityTest {

  private static final Outputs ENERGY =
      Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, OutputLine.COIL_FIRE);

  @Test
  void keepsItsRulesOnAnyInput() {
    int allowed = 0;
    for (long seed = 1; seed <= 60; seed++) {
      allowed += walk(seed);
    }
    assertThat(allowed)
        .as("scans in which energy was allowed: the walk must get there")
        .isPositive();
  }

  private static int walk(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Bench bench = Bench.ready();
    int allowed = 0;
    for (int i = 0; i < 1_000; i++) {
      disturb(bench, random);
      bench.scan();
      Permission permission = bench.last.permission();
      boolean energy = !permission.allowed().only(ENERGY).equals(Outputs.ALL_LOW);
      allowed += energy ? 1 : 0;
      String where = "seed " + seed + ", scan " + i;
      assertThat(energy && bench.state.trip().isPresent()).as(where).isFalse();
      assertThat(energy && !lidAndKey(bench)).as(where).isFalse();
      assertThat(bench.last.tripped().isPresent() && bench.last.reset().isPresent())
          .as(where)
          .isFalse();
      bench.driven = permission.lower(new Outputs(random.nextInt(32)), bench.driven);
    }
    return allowed;
  }

  private static boolean lidAndKey(Bench bench) {
    return bench.state.row().met(Condition.LID_A_CLOSED)
        && bench.state.row().met(Condition.LID_B_CLOSED)
        && bench.state.row().met(Condition.KEY_ON)
        && bench.state.row().met(Condition.STOP_LOOP_CLOSED);
  }

  private static void disturb(Bench bench, SplittableRandom random) {
    bench.stopAsked = false;
    switch (random.nextInt(120)) {
      case 0 -> bench.set(pick(InputLine.values(), random), random.nextBoolean());
      case 1 -> bench.set(pick(HeadFlag.values(), random), random.nextBoolean());
      case 2 -> bench.bankVolts = random.nextDouble(-1, 60);
      case 3 -> bench.coilMilliAmps = random.nextInt(-200, 200);
      case 4 -> bench.coilCentiDegC = random.nextInt(-5_000, 16_000);
      case 5 -> bench.headSpeaks = random.nextBoolean();
      case 6 -> bench.linkOpen = random.nextBoolean();
      case 7 -> bench.bootId = random.nextInt(3);
      case 8 -> bench.lateNs = random.nextLong(200 * Bench.MS);
      case 9 -> bench.stopAsked = true;
      default -> heal(bench, random);
    }
  }

  /** Most of the time things come right again, or the walk would stay where nothing is allowed. */
  private static void heal(Bench bench, SplittableRandom random) {
    bench.free(pick(InputLine.values(), random)).free(pick(HeadFlag.values(), random));
    if (random.nextInt(10) == 0) {
      bench.set(HeadFlag.PERMIT, true);
      bench.headSpeaks = true;
      bench.linkOpen = true;
      bench.lateNs = 0;
      bench.coilMilliAmps = 0;
      bench.coilCentiDegC = 2_500;
    }
  }

  private static <T> T pick(T[] values, SplittableRandom random) {
    return values[random.nextInt(values.length)];
  }
}
