package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.device.BankLeft;
import lodestep.device.Carried;
import lodestep.device.RigWear;
import lodestep.device.UsualCurrents;
import lodestep.dial.PlannerMode;
import lodestep.dial.RigMemory;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ActEvent;
import lodestep.port.Contacts;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/**
 * Goal: what a head can still tell of a pulse is asked for, no more is believed than it says, and
 * nobody waits for ever. Method: a head that says what the test gives it.
 */
class RecallingTest {

  private static final int BOOT = 77;
  private static final long SCAN_NS = 5_000_000L;
  private static final ActEvent.PulseIntended CHARGE =
      new ActEvent.PulseIntended(
          4, 1, 1, "charge", true, true, 48_000, 48_100, 300_000, 400_000, "rod coil");
  private static final LedgerEvent STARTED = new LedgerEvent.ProgramStarted("test", "", "", false);
  private static final LedgerEvent CALIBRATED =
      new LedgerEvent.CalibrationSet(500_000, 0, 2000, 1000, "nominal");

  private final List<HeadRequest> requests = new ArrayList<>();
  private final List<LedgerEvent> events = new ArrayList<>();
  private BatchJob job =
      BatchJob.begin(
          new Batch(
              "plan",
              "0".repeat(64),
              "",
              3,
              List.of(),
              PlannerMode.CURVE,
              RigMemory.none(),
              Optional.empty(),
              new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001),
              0,
              NestSeatings.USUAL),
          List.of(CHARGE.unknown(21, "cut"), CHARGE.unknown(22, "cut"), STARTED, CALIBRATED),
          Optional.of(new PulseRecall(BOOT, Map.of(21L, CHARGE, 22L, CHARGE))));
  private long nowNs = 1_000_000_000L;

  private void step(HeadFrame... frames) {
    nowNs += SCAN_NS;
    List<ReceivedFrame> received =
        Arrays.stream(frames).map(frame -> new ReceivedFrame(frame, nowNs)).toList();
    View view =
        new View(
            nowNs,
            Instant.EPOCH,
            new Contacts(0, nowNs),
            received,
            Optional.empty(),
            new LinkState(true, 0, ""),
            Outputs.ALL_LOW,
            Outputs.ALL_LOW,
            false,
            Optional.empty(),
            events.size() + 1L,
            new LedgerState(0, Optional.empty()),
            List.of(),
            Optional.empty());
    JobStep next = job.step(view);
    assertThat(next.wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(next.permit()).isFalse();
    requests.addAll(next.requests());
    events.addAll(next.events());
    job = (BatchJob) next.next();
  }

  private static HeadFrame hello(int bootId) {
    return new HeadFrame.Hello(bootId, "H-1", HeadFrame.PROTOCOL_VERSION, "1.0", true);
  }

  private static HeadFrame report(int bootId, long intent, int peakMilliAmps) {
    return new HeadFrame.PulseReport(bootId, intent, 9, peakMilliAmps, 0, 48_000, 3_000, 900, true);
  }

  private List<String> outcomes() {
    while (job instanceof Recalling || job instanceof Opening) {
      step();
    }
    assertThat(events).containsSubsequence(STARTED, CALIBRATED);
    return events.stream()
        .filter(ActEvent.PulseEnded.class::isInstance)
        .map(ActEvent.PulseEnded.class::cast)
        .map(end -> end.intent() + " " + end.outcome())
        .toList();
  }

  @Test
  void asksNothingBeforeTheHeadHasSaidWhoItIs() {
    step();
    step();

    assertThat(requests).isEmpty();
    assertThat(job.sentence()).contains("asking the head");
  }

  @Test
  void recordsWhatTheHeadSaysOfEach() {
    step(hello(BOOT));
    assertThat(requests)
        .containsExactly(new HeadRequest.AskPulse(21), new HeadRequest.AskPulse(22));
    step(report(BOOT, 21, 395_000), report(BOOT, 22, 300));

    assertThat(outcomes()).containsExactly("21 delivered", "22 misfired");
  }

  @Test
  void hasAPersonLookAtACoilWhosePulseItHearsOfWasNotAsUsual() {
    RigConfig rig = ShippedRig.read("rig-virtual.toml");
    PlanRow row = LoadingTest.rod(rig);
    UsualCurrents usual = UsualCurrents.UNKNOWN;
    for (int i = 0; i < UsualCurrents.ENOUGH; i++) {
      usual = usual.with(new Carried("rod coil", true, 1.0));
    }
    Batch batch =
        new Batch(
            "plan",
            "0".repeat(64),
            "",
            3,
            Entry.planned(List.of(row), rig),
            PlannerMode.CURVE,
            RigMemory.none().with(new RigWear(BankLeft.UNKNOWN, usual)),
            Optional.empty(),
            new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001),
            0,
            NestSeatings.USUAL);
    job =
        BatchJob.begin(
            batch,
            List.of(CHARGE.unknown(21, "cut"), STARTED, CALIBRATED),
            Optional.of(new PulseRecall(BOOT, Map.of(21L, CHARGE))));
    step(hello(BOOT));
    step(report(BOOT, 21, 395_000));
    outcomes();

    assertThat(job)
        .isInstanceOfSatisfying(
            BatchJob.Attention.class,
            asked -> assertThat(asked.why()).contains("more current than it used to"));
  }

  @Test
  void saysUnknownOfWhatIsNotInTheRing() {
    step(hello(BOOT));
    step(report(BOOT, 21, 395_000));
    step(new HeadFrame.Refused(BOOT, RefusalReason.NOT_IN_RING, 22));

    assertThat(outcomes()).containsExactly("21 delivered", "22 unknown");
  }

  @Test
  void believesNothingOfAnotherRunOfTheHead() {
    step(report(BOOT + 1, 21, 395_000));
    step(hello(BOOT + 1));

    assertThat(requests).isEmpty();
    assertThat(outcomes()).containsExactly("21 unknown", "22 unknown");
  }

  @Test
  void asksAgainForWhatIsLostOnTheWayAndOnlyForThat() {
    step(hello(BOOT));
    step(report(BOOT, 22, 395_000));
    requests.clear();
    while (requests.isEmpty()) {
      step();
    }
    assertThat(requests).containsExactly(new HeadRequest.AskPulse(21));
    step(report(BOOT, 21, 395_000));

    assertThat(outcomes()).containsExactly("21 delivered", "22 delivered");
  }

  @Test
  void waitsForASilentHeadForFiveSecondsAndNoLonger() {
    long beganNs = nowNs;
    while (job instanceof Recalling) {
      step();
    }

    assertThat(nowNs - beganNs).isBetween(Recalling.WAIT_NS, Recalling.WAIT_NS + 4 * SCAN_NS);
    assertThat(outcomes()).containsExactly("21 unknown", "22 unknown");
  }
}
