package lodestep.scan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.config.Limits;
import lodestep.port.Command;
import lodestep.port.EventDraft;
import lodestep.port.HeadLink;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import org.junit.jupiter.api.Test;

/** Goal: a head alone is read and recorded, and nothing can be driven through it. */
class HeadCycleTest {

  private static final long MS = 1_000_000L;

  private final List<LedgerEvent> events = new ArrayList<>();
  private final List<HeadRequest> requests = new ArrayList<>();
  private final List<ReceivedFrame> toCome = new ArrayList<>();
  private final List<View> views = new ArrayList<>();
  private Function<Scripted, JobStep> script = job -> JobStep.stay(job, Outputs.ALL_LOW, false);
  private long magnet;
  private final HeadCycle cycle =
      new HeadCycle(new Head(), new Book(), () -> Instant.EPOCH, Limits.standard(), new Scripted());

  private final class Scripted implements Job {
    @Override
    public JobStep step(View view) {
      views.add(view);
      return script.apply(this);
    }

    @Override
    public long magnet() {
      return magnet;
    }
  }

  private final class Head implements HeadLink {
    @Override
    public List<ReceivedFrame> take() {
      List<ReceivedFrame> taken = List.copyOf(toCome);
      toCome.clear();
      return taken;
    }

    @Override
    public LinkState state(long nowNs) {
      return new LinkState(true, 0, "");
    }

    @Override
    public void offer(HeadRequest request) {
      requests.add(request);
    }

    @Override
    public void stop() {}

    @Override
    public void close() {}
  }

  private final class Book implements Ledger {
    @Override
    public long nextNumber() {
      return events.size() + 1L;
    }

    @Override
    public void append(EventDraft draft) {
      events.add(draft.event());
    }

    @Override
    public LedgerState state() {
      return new LedgerState(events.size(), Optional.empty());
    }

    @Override
    public void close() {}
  }

  private void comes(HeadFrame frame) {
    toCome.add(new ReceivedFrame(frame, 0));
  }

  private static HeadFrame.Hello hello(int bootId) {
    return new HeadFrame.Hello(bootId, "T-7", HeadFrame.PROTOCOL_VERSION, "1.0", true);
  }

  @Test
  void sendsNoHeartbeatAndAsksOnlyWhoIsThere() {
    for (long scan = 1; scan <= 500; scan++) {
      cycle.run(scan * 5 * MS);
    }

    assertThat(requests).hasSize(3).allMatch(HeadRequest.AskHello.class::isInstance);
  }

  @Test
  void putsEachHeadOnRecordOnceForEachOfItsRuns() {
    comes(hello(4));
    cycle.run(5 * MS);
    comes(hello(4));
    cycle.run(10 * MS);
    comes(hello(5));
    cycle.run(15 * MS);

    assertThat(events).hasSize(2).allMatch(LedgerEvent.HeadSeen.class::isInstance);
  }

  /** There is nothing to let go of: the job itself ends by it, before whatever else was asked. */
  @Test
  void handsAStopToTheJobBeforeEverythingElse() {
    cycle.offer(Command.CONTINUE);
    cycle.offer(Command.STOP);
    cycle.run(5 * MS);
    cycle.askStop();
    cycle.run(10 * MS);
    cycle.run(15 * MS);

    assertThat(views.get(0).commands()).containsExactly(Command.STOP, Command.CONTINUE);
    assertThat(views.get(1).commands()).containsExactly(Command.STOP);
    assertThat(views.get(2).commands()).isEmpty();
  }

  private static final class Resting implements Job {
    @Override
    public JobStep step(View view) {
      return JobStep.stay(this, Outputs.ALL_LOW, false);
    }

    @Override
    public boolean rests() {
      return true;
    }
  }

  @Test
  void followsAJobAtRestAndNoOther() {
    Job next = new Resting();
    assertThat(cycle.begin(next)).as("while one is under way").isFalse();
    script = job -> JobStep.stay(next, Outputs.ALL_LOW, false);
    cycle.run(5 * MS);
    assertThat(cycle.snapshot().job()).isSameAs(next);

    Job after = new Resting();
    assertThat(cycle.begin(after)).isTrue();
    assertThat(cycle.begin(new Resting())).as("while another one waits").isFalse();
    cycle.run(10 * MS);

    assertThat(cycle.snapshot().job()).isSameAs(after);
  }

  @Test
  void showsWhatEachScanCameToAndHowLateItWas() {
    assertThat(cycle.snapshot().times().scans()).isZero();
    cycle.run(5 * MS);
    cycle.run(40 * MS);

    assertThat(cycle.snapshot().nowNs()).isEqualTo(40 * MS);
    assertThat(cycle.snapshot().times()).isEqualTo(new CycleTimes(2, 30 * MS, 30 * MS, 1));
    assertThat(cycle.snapshot().driven()).isEqualTo(Outputs.ALL_LOW);
    assertThat(cycle.snapshot().trip()).isEmpty();
  }

  @Test
  void appendsWhatAPersonPutsOnRecordAfterTheJobsOwn() {
    LedgerEvent own = new LedgerEvent.PersonAsked("own");
    script =
        job -> new JobStep(job, Outputs.ALL_LOW, false, List.of(own), List.of(), Optional.empty());
    LedgerEvent beside = new LedgerEvent.PersonAsked("beside");
    Note note = cycle.notes().offer(List.of(beside)).orElseThrow();
    cycle.run(5 * MS);
    cycle.run(10 * MS);

    assertThat(events).containsExactly(own, beside, own);
    assertThat(note.await(1)).isEqualTo(2);
  }

  @Test
  void showsAnErrorInTheProgramBeforeItPassesOn() {
    script =
        job -> {
          throw new IllegalStateException("broken");
        };

    assertThatThrownBy(() -> cycle.run(5 * MS)).hasMessage("broken");

    assertThat(cycle.snapshot().failure()).isPresent();
  }

  @Test
  void handsCommandsOverOnce() {
    cycle.offer(Command.CONTINUE);
    cycle.run(5 * MS);
    cycle.run(10 * MS);

    assertThat(views.get(0).commands()).containsExactly(Command.CONTINUE);
    assertThat(views.get(1).commands()).isEmpty();
  }

  @Test
  void keepsANoteUntilThereIsAMagnetToWriteItOf() {
    cycle.note(about -> new LedgerEvent.ReadingTyped(about, 1, "", "shelf gauge", "x"));
    cycle.run(5 * MS);
    assertThat(events).isEmpty();
    magnet = 8;
    cycle.run(10 * MS);
    cycle.run(15 * MS);

    assertThat(events).containsExactly(new LedgerEvent.ReadingTyped(8, 1, "", "shelf gauge", "x"));
  }

  @Test
  void refusesAJobThatWantsAnythingDriven() {
    List<Function<Scripted, JobStep>> wanting =
        List.of(
            job -> JobStep.stay(job, Outputs.high(OutputLine.BANK_FILL), false),
            job -> JobStep.stay(job, Outputs.ALL_LOW, true),
            job ->
                new JobStep(
                    job,
                    Outputs.ALL_LOW,
                    false,
                    List.of(),
                    List.of(new HeadRequest.AskHello()),
                    Optional.empty()));
    for (Function<Scripted, JobStep> each : wanting) {
      script = each;
      assertThatThrownBy(() -> cycle.run(5 * MS))
          .isInstanceOf(IllegalStateException.class)
          .hasMessageContaining("nothing to drive");
    }
  }
}
