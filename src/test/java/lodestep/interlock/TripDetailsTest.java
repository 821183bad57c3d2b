package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;

/**
 * Goal: a trip says with figures what was seen, for whoever looks for its cause. Method: one trip
 * of each kind of figure, and its words.
 */
class TripDetailsTest {

  private static String detail(Bench bench, TripCause cause) {
    assertThat(bench.tripped()).contains(cause);
    return bench.firstTrip.orElseThrow().detail();
  }

  @Test
  void namesTheOpenLidContactAndTheBank() {
    Bench bench = Bench.holding(30).set(InputLine.LID_B, false).run(20);

    assertThat(detail(bench, TripCause.LID_OPENED))
        .startsWith("lid contact A closed, B open, bank at 30")
        .endsWith("V");
  }

  @Test
  void namesVoltageAndWarmthWhereTheChainOpened() {
    Bench filled = Bench.holding(30).set(HeadFlag.CHAIN, false).run(20);

    assertThat(detail(filled, TripCause.CHAIN_OPEN))
        .startsWith("lid contact A closed, B closed, bank at 30")
        .contains(" V, coil at ");
    Bench low = Bench.holding(10).set(HeadFlag.CHAIN, false).run(20);
    assertThat(detail(low, TripCause.CHAIN_OPEN)).doesNotContain("bank").contains("coil at ");
  }

  @Test
  void saysHowLateAScanWas() {
    Bench bench = Bench.ready();
    bench.lateNs = 170 * Bench.MS;

    assertThat(detail(bench.scan(), TripCause.SCAN_LATE)).isEqualTo("late by 170 ms");
  }

  @Test
  void saysHowLongTheHeadIsSilentAndWhatHasBecomeOfItsLine() {
    Bench silent = Bench.ready();
    silent.headSpeaks = false;
    silent.run(500);
    Bench unplugged = Bench.ready();
    unplugged.headSpeaks = false;
    unplugged.linkOpen = false;
    unplugged.run(500);

    assertThat(detail(silent, TripCause.HEAD_SILENT)).matches("its newest line is \\d{2,3} ms old");
    assertThat(detail(unplugged, TripCause.HEAD_SILENT))
        .matches("its newest line is \\d{1,3} ms old; the cable is out; put it in");
  }

  @Test
  void saysWhyThePermitIsGone() {
    Bench latched = Bench.holding(30).set(HeadFlag.PERMIT, false).set(HeadFlag.LATCHED, true);
    Bench lost = Bench.holding(30).set(HeadFlag.PERMIT, false);

    assertThat(detail(latched.run(300), TripCause.PERMIT_LOST))
        .isEqualTo("chain closed, the head has latched off");
    assertThat(detail(lost.run(300), TripCause.PERMIT_LOST)).isEqualTo("chain closed");
  }

  @Test
  void namesTheContactsThatHostAndHeadSeeUnlike() {
    Bench bench = Bench.ready().set(HeadFlag.REVERSE_CONTACT, true).run(300);

    assertThat(detail(bench, TripCause.CONTACTS_DISAGREE)).isEqualTo("contacts reverse contact");
  }

  @Test
  void namesTheLinesThatReadBackUnlike() {
    Bench bench = Bench.ready();
    bench.readBack = Optional.of(Outputs.high(OutputLine.LAMP_READY));

    assertThat(detail(bench.run(100), TripCause.OUTPUT_READ_BACK))
        .isEqualTo("driven nothing, read back lamp ready");
  }

  @Test
  void saysHowHotTheCoilIsAndWhenThatIsNotKnown() {
    Bench hot = Bench.ready();
    hot.coilCentiDegC = 8_000;
    Bench broken = Bench.ready();
    broken.coilCentiDegC = -27_315;
    broken.coilDither = 0;

    assertThat(detail(hot.run(300), TripCause.COIL_HOT)).startsWith("coil at 80.0");
    assertThat(detail(broken.run(300), TripCause.COIL_SENSOR)).isEqualTo("coil not known");
  }

  @Test
  void saysWhereTheJigStandsAndWhatItsSwitchesSay() {
    Bench bench = Bench.ready(Bench.JIG).run(300);
    bench.positionMicroMetres += 100;

    assertThat(detail(bench.run(300), TripCause.JIG_MOVED))
        .isEqualTo("position 2.10 mm, home switch closed, far switch closed");
  }

  /** All times of a line count from the first scan on. */
  @Test
  void countsEveryLineFromTheFirstScanAndThenFromItsOwnChange() {
    DriveTimes first = DriveTimes.POWER_ON.step(Outputs.ALL_LOW, 7);
    Outputs[] lines = {
      Outputs.high(OutputLine.BANK_FILL),
      Outputs.high(OutputLine.BANK_HOLD),
      Outputs.high(OutputLine.COIL_REVERSE),
      Outputs.high(OutputLine.COIL_FIRE),
      Outputs.high(OutputLine.JIG_ENABLE)
    };

    assertThat(first).isEqualTo(new DriveTimes(Outputs.ALL_LOW, true, 7, 7, 7, 7, 7));
    assertThat(first.step(Outputs.ALL_LOW, 9)).isEqualTo(first);
    for (int i = 0; i < lines.length; i++) {
      assertThat(first.step(lines[i], 9))
          .isEqualTo(
              new DriveTimes(
                  lines[i],
                  true,
                  i == 0 ? 9 : 7,
                  i == 1 ? 9 : 7,
                  i == 2 ? 9 : 7,
                  i == 3 ? 9 : 7,
                  i == 4 ? 9 : 7));
    }
  }
}
