package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import lodestep.port.InputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/** The head's lines, its converters, and how it starts, falls silent and starts again. */
class VirtualHeadTest {

  private static double meanCounts(List<HeadFrame.Status> lines) {
    return lines.stream().mapToInt(HeadFrame.Status::hallCounts).average().orElseThrow();
  }

  @Test
  void saysWhoItIsFirst() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(50);

    assertThat(host.frames.get(0).frame()).isInstanceOf(HeadFrame.Hello.class);
    HeadFrame.Hello hello = host.last(HeadFrame.Hello.class);
    assertThat(hello.protocolVersion()).isEqualTo(HeadFrame.PROTOCOL_VERSION);
    HeadFrame.Build build = host.last(HeadFrame.Build.class);
    assertThat(host.frames.get(1).frame()).isEqualTo(build);
    assertThat(build.stepsPerTurn()).as("no jig").isZero();
    assertThat(build.windowMillis()).isEqualTo(300);
    assertThat(build.bankCapMilliVolts()).isEqualTo(51_000);
    assertThat(build.coilCentiDegCMax()).isEqualTo(7_000);
    assertThat(hello.watchdogProven()).isTrue();
    assertThat(hello.serialNumber()).matches("\\S{1,16}");
    assertThat(hello.firmwareVersion()).matches("\\S{1,12}");
  }

  @Test
  void sendsAHundredNumberedLinesASecond() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(10_020);

    List<HeadFrame.Status> lines = host.all(HeadFrame.Status.class);
    assertThat(lines).hasSizeBetween(1000, 1002);
    for (int i = 1; i < lines.size(); i++) {
      assertThat(lines.get(i).sequence()).isEqualTo(lines.get(i - 1).sequence() + 1);
      assertThat(lines.get(i).clockMs()).isEqualTo(lines.get(i - 1).clockMs() + 10);
      assertThat(lines.get(i).sampleCounter())
          .isEqualTo((lines.get(i - 1).sampleCounter() + 10) % 256);
    }
  }

  @Test
  void answersWhenAskedWhoItIs() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(50);

    host.send(new HeadRequest.AskHello());
    host.run(30);

    assertThat(host.all(HeadFrame.Hello.class)).hasSize(2);
  }

  @Test
  void refusesToMoveAJigItDoesNotHave() {
    TestHost host = new TestHost(FaultPlan.NONE);

    host.send(new HeadRequest.MoveTo(1000));
    host.run(50);

    assertThat(host.last(HeadFrame.Refused.class).reason()).isEqualTo(RefusalReason.NOT_SAFE);
  }

  /** White noise of about ten counts: the scatter of differences is √2 of it. */
  @Test
  void readsWithTheNoiseOfItsConverter() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(20_000);

    List<HeadFrame.Status> lines = host.all(HeadFrame.Status.class);
    double squares = 0.0;
    for (int i = 1; i < lines.size(); i++) {
      double step = lines.get(i).hallCounts() - lines.get(i - 1).hallCounts();
      squares += step * step;
    }
    double sigma = Math.sqrt(squares / (lines.size() - 1) / 2.0);
    assertThat(sigma).isCloseTo(10.0, within(0.7));
  }

  /** The wander builds up to about 10 µT, here 5 counts, over a minute. */
  @Test
  void wandersByAboutTenMicroteslaAMinute() {
    double squares = 0.0;
    int minutes = 0;
    for (long seed = 1; seed <= 6; seed++) {
      TestHost host = new TestHost(seed, FaultPlan.NONE);
      host.run(300_000);
      List<HeadFrame.Status> lines = host.all(HeadFrame.Status.class);
      for (int at = 0; at + 6500 < lines.size(); at += 6000) {
        double change =
            meanCounts(lines.subList(at + 6000, at + 6500))
                - meanCounts(lines.subList(at, at + 500));
        squares += change * change;
        minutes++;
      }
    }

    assertThat(Math.sqrt(squares / minutes)).isBetween(2.0, 8.0);
  }

  @Test
  void readsTheMagnetInTheNestAboveItsZero() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(2000);
    double zero = meanCounts(host.all(HeadFrame.Status.class));
    host.frames.clear();
    host.rig.controls().seat(new MarkedMagnet(-0.05), new SplittableRandom(1));

    host.run(2000);

    double counts = meanCounts(host.all(HeadFrame.Status.class).subList(10, 190)) - zero;
    assertThat(counts).isCloseTo(-25_000.0, within(80.0));
  }

  @Test
  void clipsAtTheRangeOfTheGauge() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.rig.controls().seat(new MarkedMagnet(0.5), new SplittableRandom(1));
    host.run(100);
    assertThat(host.status().hallCounts()).isEqualTo(130_000);

    host.rig.controls().unseat();
    host.rig.controls().seat(new MarkedMagnet(-0.5), new SplittableRandom(1));
    host.run(100);

    assertThat(host.status().hallCounts()).isEqualTo(-130_000);
  }

  @Test
  void measuresTheBankToAMillivoltOrSo() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(20.0);
    host.frames.clear();
    host.run(1000);

    List<HeadFrame.Status> lines = host.all(HeadFrame.Status.class);
    double fall = 0.0;
    for (HeadFrame.Status line : lines) {
      fall += line.bankMilliVolts();
    }
    assertThat(fall / lines.size()).isBetween(19_500.0, 20_600.0);
    // The bleeder takes 2.3 per cent in a second; line to line stands out above the noise.
    assertThat(lines.get(0).bankMilliVolts() - lines.get(lines.size() - 1).bankMilliVolts())
        .isBetween(420, 480);
  }

  @Test
  void standsStillWhenItsGaugeIsFrozen() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.GaugeFrozen(), TestHost.atMs(1000));
    TestHost host = new TestHost(plan);
    host.run(1100);
    host.frames.clear();

    host.run(1000);

    assertThat(
            host.all(HeadFrame.Status.class).stream().map(HeadFrame.Status::hallCounts).distinct())
        .hasSize(1);
    assertThat(
            host.all(HeadFrame.Status.class).stream()
                .map(HeadFrame.Status::sampleCounter)
                .distinct())
        .hasSize(1);
  }

  @Test
  void showsWhatTheCoilsSensorShows() {
    FaultPlan plan =
        FaultPlan.NONE
            .with(
                new Fault.CoilSensor(Fault.CoilSensor.Way.OPEN),
                TestHost.atMs(1000),
                TestHost.atMs(2000))
            .with(
                new Fault.CoilSensor(Fault.CoilSensor.Way.SHORTED),
                TestHost.atMs(2000),
                TestHost.atMs(3000))
            .with(new Fault.CoilSensor(Fault.CoilSensor.Way.FROZEN), TestHost.atMs(4000));
    TestHost host = new TestHost(plan);

    host.run(900);
    assertThat(host.status().coilCentiDegC()).isBetween(2100, 2200);
    host.run(1000);
    assertThat(host.status().coilCentiDegC()).isEqualTo(HeadSensors.COIL_OPEN_CENTI_DEG_C);
    host.run(1000);
    assertThat(host.status().coilCentiDegC()).isEqualTo(HeadSensors.COIL_SHORTED_CENTI_DEG_C);
    host.run(1200);
    host.frames.clear();
    host.run(1000);
    assertThat(
            host.all(HeadFrame.Status.class).stream()
                .map(HeadFrame.Status::coilCentiDegC)
                .distinct())
        .hasSize(1);
  }

  @Test
  void refreshesNothingWithAHeartbeatThatComesAgainAndAgain() {
    TestHost host = new TestHost(FaultPlan.NONE).permitted();
    host.run(20);
    host.heartbeats = false;
    host.run(10);

    for (int again = 0; again < 60; again++) {
      host.rig.headLink().offer(new HeadRequest.Heartbeat(7_777, true));
      host.run(5);
    }

    assertThat(host.has(HeadFlag.PERMIT)).isFalse();
    assertThat(host.has(HeadFlag.LATCHED)).isTrue();
  }

  @Test
  void holdsNoPermitWithAHotCoil() {
    TestHost host = new TestHost(FaultPlan.NONE).permitted();

    host.rig.plant().warmCoil(Temperature.ofDegC(71.0));
    host.run(30);

    assertThat(host.has(HeadFlag.PERMIT)).isFalse();
    assertThat(host.has(HeadFlag.LATCHED)).isTrue();
  }

  @Test
  void holdsNoPermitWithItsCoilSensorBroken() {
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.CoilSensor(Fault.CoilSensor.Way.OPEN), TestHost.atMs(1000));
    TestHost host = new TestHost(plan).permitted();

    host.run(1000);

    assertThat(host.has(HeadFlag.PERMIT)).isFalse();
  }

  @Test
  void letsGoOfTheBankWhenTheHostFallsSilent() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(30.0);

    host.heartbeats = false;
    host.run(220);
    assertThat(host.rig.plant().permitClosed()).isTrue();
    host.run(30);

    assertThat(host.rig.plant().permitClosed()).isFalse();
    assertThat(host.closed(InputLine.BLEED_CONTACT)).isTrue();
  }

  @Test
  void fallsSilentWithoutLettingGoWhenOnlyItsLinesAreLost() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.HeadSilent(), TestHost.atMs(1000));
    TestHost host = new TestHost(plan).permitted();
    host.run(1000);
    host.frames.clear();

    host.run(1000);

    assertThat(host.frames).isEmpty();
    assertThat(host.rig.plant().permitClosed()).isTrue();
  }

  @Test
  void isResetByItsWatchdogWhenItHangs() {
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.HeadHung(), TestHost.atMs(1000), TestHost.atMs(1300));
    TestHost host = new TestHost(plan).permitted();
    int boot = host.status().bootId();
    host.run(1200);
    assertThat(host.rig.plant().permitClosed()).isFalse();

    host.run(1000);

    assertThat(host.all(HeadFrame.Hello.class)).hasSize(2);
    assertThat(host.status().bootId()).isNotEqualTo(boot);
    assertThat(host.has(HeadFlag.PERMIT)).isFalse();
    assertThat(host.has(HeadFlag.LATCHED)).isTrue();
  }

  @Test
  void keepsItsOutputsWhileItHangsUntilTheWatchdogActs() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.HeadHung(), TestHost.atMs(1000));
    TestHost host = new TestHost(plan).permitted();
    host.run((int) ((TestHost.atMs(1200) - host.rig.clock().nowNs()) / 1_000_000L));
    assertThat(host.rig.plant().permitClosed()).isTrue();

    host.run(100);

    assertThat(host.rig.plant().permitClosed()).isFalse();
  }

  @Test
  void startsAnewWithAnotherBootIdAndAnEmptyRing() {
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.HeadDown(), TestHost.atMs(20_000), TestHost.atMs(20_100));
    TestHost host = new TestHost(plan).filledTo(10.0);
    HeadFrame.PulseReport report = host.pulse(3L, 60);
    host.permit = false;
    host.outputs = Outputs.ALL_LOW;
    host.run(21_000);

    host.send(new HeadRequest.AskPulse(3L));
    host.run(50);

    assertThat(host.status().bootId()).isNotEqualTo(report.bootId());
    assertThat(host.status().clockMs()).isLessThan(21_000);
    assertThat(host.last(HeadFrame.Refused.class).reason()).isEqualTo(RefusalReason.NOT_IN_RING);
    assertThat(host.has(HeadFlag.LATCHED)).isFalse();
  }

  @Test
  void drawsTheSameFramesFromTheSameSeed() {
    assertThat(framesOf(77L)).isEqualTo(framesOf(77L));
  }

  @Test
  void drawsOtherFramesFromAnotherSeed() {
    assertThat(framesOf(77L)).isNotEqualTo(framesOf(78L));
  }

  private static List<ReceivedFrame> framesOf(long seed) {
    FaultPlan plan =
        FaultPlan.NONE
            .with(new Fault.LinesDamaged(0.1), TestHost.atMs(3000), TestHost.atMs(5000))
            .with(new Fault.HeadDown(), TestHost.atMs(16_000), TestHost.atMs(16_010));
    TestHost host = new TestHost(seed, plan);
    host.rig.controls().seat(new MarkedMagnet(0.04), new SplittableRandom(seed));
    host.filledTo(15.0);
    host.pulse(9L, 60);
    host.run(15_000);
    assertThat(host.rig.headLink().state(0L).badLines()).isPositive();
    return List.copyOf(host.frames);
  }
}
