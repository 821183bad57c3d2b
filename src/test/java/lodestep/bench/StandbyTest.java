package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.dial.PlannerMode;
import lodestep.dial.RigMemory;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ActEvent;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/** A rig that waits for work closes first what was left open, and drives nothing. */
class StandbyTest {

  private static final int BOOT = 77;
  private static final ActEvent.PulseIntended CHARGE =
      new ActEvent.PulseIntended(
          4, 1, 1, "charge", true, true, 48_000, 48_100, 300_000, 400_000, "rod coil");
  private static final LedgerEvent STARTED = new LedgerEvent.ProgramStarted("test", "", "", false);
  private static final LedgerEvent CALIBRATED =
      new LedgerEvent.CalibrationSet(500_000, 0, 2000, 1000, "nominal");
  private static final GaugeCalibration GAUGE =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private final List<LedgerEvent> events = new ArrayList<>();
  private final List<HeadRequest> requests = new ArrayList<>();
  private Optional<Trip> trip = Optional.empty();
  private List<Command> commands = List.of();
  private long nowNs = 1_000_000_000L;

  private JobStep step(Job job, HeadFrame... frames) {
    nowNs += 5_000_000L;
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
            trip,
            events.size() + 1L,
            new LedgerState(0, Optional.empty()),
            commands,
            Optional.empty());
    JobStep step = job.step(view);
    assertThat(step.permit()).isFalse();
    events.addAll(step.events());
    requests.addAll(step.requests());
    return step;
  }

  @Test
  void writesThePrologueOnceAndRests() {
    Job job = Standby.begin(new LedgerStart(List.of(STARTED, CALIBRATED), Optional.empty()), GAUGE);
    assertThat(job.rests()).as("before the prologue").isFalse();

    JobStep step = step(job);
    JobStep next = step(step.next());

    assertThat(step.next().rests()).isTrue();
    assertThat(events).containsExactly(STARTED, CALIBRATED);
    assertThat(next.wanted()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void asksTheHeadOfAPulseThatWasLeftOpenAndBelievesItsWord() {
    LedgerStart start =
        new LedgerStart(
            List.of(CHARGE.unknown(21, "cut"), STARTED, CALIBRATED),
            Optional.of(new PulseRecall(BOOT, Map.of(21L, CHARGE))),
            Optional.empty());
    Job job = Standby.begin(start, GAUGE);

    job = step(job, new HeadFrame.Hello(BOOT, "H-1", 3, "1.0", true)).next();
    assertThat(requests).containsExactly(new HeadRequest.AskPulse(21));
    assertThat(job.rests()).isFalse();
    job =
        step(job, new HeadFrame.PulseReport(BOOT, 21, 9, 400_000, 0, 48_000, 3_000, 900, true))
            .next();
    job = step(job).next();

    assertThat(job.rests()).isTrue();
    assertThat(events).hasSize(3);
    assertThat(((ActEvent.ActEnded) events.get(0)).outcome()).isEqualTo("delivered");
  }

  @Test
  void soundsTheBuzzerWhileATripStandsAndPutsOnRecordWhatIsAsked() {
    trip = Optional.of(new Trip(TripCause.STOP_ASKED, "", 1));
    commands = List.of(Command.PAUSE);

    JobStep step = step(new Standby(Optional.empty()));

    assertThat(step.wanted()).isEqualTo(Outputs.high(OutputLine.BUZZER));
    assertThat(events).containsExactly(new LedgerEvent.PersonAsked("pause"));
  }

  /** A batch that is over leaves a rig that goes on to be watched. */
  @Test
  void soundsTheBuzzerOfATripAfterABatchAsWell() {
    Batch over =
        new Batch(
            "over",
            "",
            "",
            7,
            List.of(),
            PlannerMode.CURVE,
            RigMemory.none(),
            Optional.empty(),
            GAUGE,
            2,
            NestSeatings.USUAL);
    assertThat(step(new BatchJob.Done(over)).wanted()).isEqualTo(Outputs.ALL_LOW);
    trip = Optional.of(new Trip(TripCause.LID_OPENED, "", 1));

    assertThat(step(new BatchJob.Done(over)).wanted()).isEqualTo(Outputs.high(OutputLine.BUZZER));
  }
}
