package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.port.OutputLine;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;
import org.junit.jupiter.api.Test;

/** Tokens, window and reports of the head, over its cable. */
class HeadWindowTest {

  private static final long INTENT = 42L;

  private static RefusalReason refusedWith(TestHost host, HeadRequest request) {
    int before = host.all(HeadFrame.Refused.class).size();
    host.send(request);
    host.run(40);
    List<HeadFrame.Refused> refusals = host.all(HeadFrame.Refused.class);
    assertThat(refusals).hasSize(before + 1);
    assertThat(host.has(HeadFlag.WINDOW)).isFalse();
    return refusals.get(before).reason();
  }

  private static HeadRequest.OpenWindow open(int token, long intent, int milliVolts) {
    return new HeadRequest.OpenWindow(token, intent, milliVolts);
  }

  @Test
  void reportsAPulseOnceWithWhatThePlantDid() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);
    host.openWindow(token, INTENT);
    double before = host.bankVolts();
    host.raise(OutputLine.COIL_FIRE);
    host.run(60);
    host.lower(OutputLine.COIL_FIRE);
    host.run(500);

    List<HeadFrame.PulseReport> reports = host.all(HeadFrame.PulseReport.class);
    assertThat(reports).hasSize(1);
    HeadFrame.PulseReport report = reports.get(0);
    assertThat(report.token()).isEqualTo(token);
    assertThat(report.intentNumber()).isEqualTo(INTENT);
    assertThat(report.fired()).isTrue();
    // 20 V over 5 Ω, a few per mille less for the rise; the channel errs by about a per mille.
    assertThat(report.peakForwardMilliAmps()).isBetween(3_940, 4_040);
    assertThat(report.peakReverseMilliAmps()).isLessThan(5);
    assertThat(report.bankBeforeMilliVolts())
        .isBetween((int) (before * 995), (int) (before * 1002));
    assertThat(report.bankAfterMilliVolts()).isBetween(10_500, 12_500);
    assertThat(report.durationMicros()).isBetween(60_000, 70_000);
  }

  @Test
  void refusesATokenWithoutPermit() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(100);

    assertThat(refusedWith(host, new HeadRequest.AskToken(INTENT)))
        .isEqualTo(RefusalReason.NO_PERMIT);
  }

  @Test
  void refusesATokenItNeverGave() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);

    assertThat(refusedWith(host, open(token + 1, INTENT, 60_000)))
        .isEqualTo(RefusalReason.BAD_TOKEN);
  }

  @Test
  void refusesATokenForAnotherIntentAndSpendsIt() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);

    assertThat(refusedWith(host, open(token, INTENT + 1, 60_000)))
        .isEqualTo(RefusalReason.BAD_TOKEN);
    assertThat(refusedWith(host, open(token, INTENT, 60_000))).isEqualTo(RefusalReason.BAD_TOKEN);
  }

  @Test
  void refusesATokenOlderThan500Milliseconds() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);
    host.run(500);

    assertThat(refusedWith(host, open(token, INTENT, 60_000))).isEqualTo(RefusalReason.BAD_TOKEN);
  }

  @Test
  void takesATokenYoungerThan500Milliseconds() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);
    host.run(400);

    host.openWindow(token, INTENT);

    assertThat(host.has(HeadFlag.WINDOW)).isTrue();
  }

  @Test
  void refusesASpentToken() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);
    host.openWindow(token, INTENT);
    host.run(400);

    assertThat(refusedWith(host, open(token, INTENT, 60_000))).isEqualTo(RefusalReason.BAD_TOKEN);
  }

  @Test
  void neverGivesATokenTwice() {
    TestHost host = new TestHost(FaultPlan.NONE).permitted();

    for (int i = 0; i < 200; i++) {
      host.token(i + 1L);
    }

    List<Integer> tokens =
        host.all(HeadFrame.TokenGrant.class).stream().map(HeadFrame.TokenGrant::token).toList();
    assertThat(tokens).hasSize(200).doesNotHaveDuplicates().doesNotContain(0);
  }

  @Test
  void refusesABankAboveTheVoltageAllowed() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int allowed = (int) (host.bankVolts() * 1e3) - 100;

    assertThat(refusedWith(host, open(host.token(INTENT), INTENT, allowed)))
        .isEqualTo(RefusalReason.BANK_TOO_HIGH);
  }

  @Test
  void opensForABankJustBelowTheVoltageAllowed() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int allowed = (int) (host.bankVolts() * 1e3) + 100;

    host.send(open(host.token(INTENT), INTENT, allowed));
    host.run(40);

    assertThat(host.has(HeadFlag.WINDOW)).isTrue();
  }

  @Test
  void refusesWhileTheBankIsBeingFilled() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);
    host.raise(OutputLine.BANK_FILL);
    host.run(30);

    assertThat(refusedWith(host, open(token, INTENT, 60_000))).isEqualTo(RefusalReason.NOT_SAFE);
  }

  @Test
  void refusesWhileTheBankIsBeingBled() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);
    host.lower(OutputLine.BANK_HOLD);
    host.run(30);

    assertThat(refusedWith(host, open(token, INTENT, 60_000))).isEqualTo(RefusalReason.NOT_SAFE);
  }

  @Test
  void refusesUntilTheChangeoverHasBeenStill() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);
    host.raise(OutputLine.COIL_REVERSE);
    host.run(20);

    assertThat(refusedWith(host, open(token, INTENT, 60_000))).isEqualTo(RefusalReason.NOT_SAFE);
  }

  @Test
  void refusesWhileTheFireLineIsAlreadyHigh() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);
    host.raise(OutputLine.COIL_FIRE);
    host.run(20);

    assertThat(refusedWith(host, open(token, INTENT, 60_000))).isEqualTo(RefusalReason.NOT_SAFE);
    assertThat(host.rig.plant().circuit().pulses()).isZero();
  }

  @Test
  void firesNothingOutsideTheWindow() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);

    host.raise(OutputLine.COIL_FIRE);
    host.run(500);

    assertThat(host.rig.plant().circuit().pulses()).isZero();
  }

  @Test
  void closesAnUnusedWindowAfter300MillisecondsAndSaysNotFired() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    host.openWindow(host.token(INTENT), INTENT);
    host.run(270);
    assertThat(host.has(HeadFlag.WINDOW)).isTrue();

    host.run(60);

    assertThat(host.has(HeadFlag.WINDOW)).isFalse();
    HeadFrame.PulseReport report = host.last(HeadFrame.PulseReport.class);
    assertThat(report.fired()).isFalse();
    assertThat(report.peakForwardMilliAmps()).isLessThan(5);
    assertThat(report.durationMicros()).isZero();
  }

  @Test
  void closesTheWindowWithTheFirstPulse() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    host.openWindow(host.token(INTENT), INTENT);
    host.raise(OutputLine.COIL_FIRE);
    host.run(20);
    host.lower(OutputLine.COIL_FIRE);
    host.run(20);

    host.raise(OutputLine.COIL_FIRE);
    host.run(100);

    assertThat(host.rig.plant().circuit().pulses()).isEqualTo(1);
  }

  @Test
  void endsAPulseWhoseFireLineStaysHigh() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    host.openWindow(host.token(INTENT), INTENT);
    host.raise(OutputLine.COIL_FIRE);

    host.run(400);

    HeadFrame.PulseReport report = host.last(HeadFrame.PulseReport.class);
    assertThat(report.durationMicros()).isLessThan(310_000);
    assertThat(report.fired()).isTrue();
    assertThat(host.rig.plant().circuit().conducting()).isFalse();
  }

  @Test
  void reportsAPulseThatAnOpenedLidCutShort() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    host.openWindow(host.token(INTENT), INTENT);
    host.raise(OutputLine.COIL_FIRE);
    host.run(10);

    host.rig.controls().lid(false);
    host.run(60);

    HeadFrame.PulseReport report = host.last(HeadFrame.PulseReport.class);
    assertThat(report.fired()).isTrue();
    assertThat(report.peakForwardMilliAmps()).isGreaterThan(3_500);
    assertThat(report.durationMicros()).isLessThan(25_000);
    assertThat(host.has(HeadFlag.LATCHED)).isTrue();
  }

  @Test
  void reportsAMisfireWithNoCurrent() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.SwitchOpen(), 0L);
    TestHost host = new TestHost(plan).filledTo(20.0);

    HeadFrame.PulseReport report = host.pulse(INTENT, 60);

    assertThat(report.fired()).isTrue();
    assertThat(report.peakForwardMilliAmps()).isLessThan(5);
    assertThat(report.bankAfterMilliVolts()).isGreaterThan(19_500);
  }

  @Test
  void reportsCurrentOfTheWrongSignWhenTheDiodeIsMissing() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.DiodeMissing(), 0L);
    TestHost host = new TestHost(plan).filledTo(20.0);

    HeadFrame.PulseReport report = host.pulse(INTENT, 60);

    assertThat(report.peakReverseMilliAmps())
        .isGreaterThan((int) (0.02 * report.peakForwardMilliAmps()));
  }

  @Test
  void givesAPastReportAgainByNumber() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    HeadFrame.PulseReport first = host.pulse(INTENT, 60);

    host.send(new HeadRequest.AskPulse(INTENT));
    host.run(30);

    assertThat(host.all(HeadFrame.PulseReport.class)).containsExactly(first, first);
  }

  @Test
  void saysWhenANumberIsNotInItsRing() {
    TestHost host = new TestHost(FaultPlan.NONE).permitted();

    assertThat(refusedWith(host, new HeadRequest.AskPulse(5L)))
        .isEqualTo(RefusalReason.NOT_IN_RING);
  }

  @Test
  void forgetsTheOldestOfMoreThan64Reports() {
    TestHost host = new TestHost(FaultPlan.NONE).permitted();
    host.raise(OutputLine.BANK_HOLD);
    host.run(30);
    for (long intent = 1; intent <= 65; intent++) {
      host.pulse(intent, 10);
    }
    assertThat(host.all(HeadFrame.PulseReport.class)).hasSize(65);

    assertThat(refusedWith(host, new HeadRequest.AskPulse(1L)))
        .isEqualTo(RefusalReason.NOT_IN_RING);
    host.send(new HeadRequest.AskPulse(2L));
    host.run(30);

    assertThat(host.last(HeadFrame.PulseReport.class).intentNumber()).isEqualTo(2L);
  }

  @Test
  void destroysTheTokenWithTheStopByte() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    int token = host.token(INTENT);

    host.rig.headLink().stop();
    host.run(5);

    assertThat(refusedWith(host, open(token, INTENT, 60_000))).isEqualTo(RefusalReason.NO_PERMIT);
    host.run(1000);
    assertThat(host.has(HeadFlag.PERMIT)).isFalse();
    assertThat(host.has(HeadFlag.LATCHED)).isTrue();
  }
}
