package lodestep.scan;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.LongFunction;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.EventDraft;
import lodestep.port.HeadLink;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.port.WallClock;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/**
 * The cycle of a head alone, for work in which the program only reads and a person acts: read all
 * frames, step the job, append its events. No line is opened, so nothing can be driven; no
 * heartbeat is sent, so the head holds no permit. A job that asks for an output, a permit or a
 * request to the head is an error in the program. Control thread only; never blocks.
 */
public final class HeadCycle {

  private final HeadLink head;
  private final Ledger ledger;
  private final WallClock wall;
  private final List<Command> commands = new ArrayList<>();
  private final List<LongFunction<LedgerEvent>> notes = new ArrayList<>();
  private NewestStatus status = NewestStatus.NONE;
  private Optional<HeadFrame.Hello> seen = Optional.empty();
  private long askedAtNs;
  private boolean asked;
  private Job job;

  private static final long ASK_AGAIN_NS = 1_000_000_000L;

  /** A cycle that has not run yet. */
  public HeadCycle(HeadLink head, Ledger ledger, WallClock wall, Job job) {
    this.head = head;
    this.ledger = ledger;
    this.wall = wall;
    this.job = job;
  }

  /** Hands a command to the job's next step. */
  public void offer(Command command) {
    commands.add(command);
  }

  /** Has an entry about the magnet at work made in the next scan in which there is one. */
  public void note(LongFunction<LedgerEvent> aboutMagnet) {
    notes.add(aboutMagnet);
  }

  /** The job as it stands. */
  public Job job() {
    return job;
  }

  /** The newest status line of the head's present boot. */
  public Optional<View.Status> status() {
    return status.line();
  }

  /**
   * Runs one scan.
   *
   * @return the frames that came since the last one, oldest first
   * @throws IllegalStateException if the job wants anything energised
   */
  public List<ReceivedFrame> run(long nowNs) {
    List<ReceivedFrame> frames = head.take();
    status = status.after(frames);
    View view = view(nowNs, frames);
    commands.clear();
    JobStep step = job.step(view);
    if (!step.wanted().equals(Outputs.ALL_LOW) || step.permit() || !step.requests().isEmpty()) {
      throw new IllegalStateException("work with a head alone has nothing to drive");
    }
    job = step.next();
    step.events().forEach(event -> append(event, view));
    append(frames, view);
    return frames;
  }

  /** After the job's own events, which have been numbered already. */
  private void append(List<ReceivedFrame> frames, View view) {
    if (job.magnet() > 0) {
      notes.forEach(note -> append(note.apply(job.magnet()), view));
      notes.clear();
    }
    for (ReceivedFrame received : frames) {
      if (received.frame() instanceof HeadFrame.Hello hello && !seen.equals(Optional.of(hello))) {
        seen = Optional.of(hello);
        append(
            new LedgerEvent.HeadSeen(
                hello.serialNumber(),
                hello.protocolVersion(),
                hello.firmwareVersion(),
                hello.bootId(),
                hello.watchdogProven()),
            view);
      }
    }
    askWho(view.nowNs());
  }

  private void askWho(long nowNs) {
    boolean known =
        seen.isPresent()
            && status.line().map(line -> line.frame().bootId() == seen.get().bootId()).orElse(true);
    if (!known && (!asked || nowNs - askedAtNs > ASK_AGAIN_NS)) {
      head.offer(new HeadRequest.AskHello());
      asked = true;
      askedAtNs = nowNs;
    }
  }

  private View view(long nowNs, List<ReceivedFrame> frames) {
    Instant now = wall.now();
    LinkState link = head.state(nowNs);
    return new View(
        nowNs,
        now,
        new Contacts(0, nowNs),
        frames,
        status.line(),
        link,
        Outputs.ALL_LOW,
        Outputs.ALL_LOW,
        false,
        Optional.empty(),
        ledger.nextNumber(),
        ledger.state(),
        List.copyOf(commands),
        Optional.empty());
  }

  private void append(LedgerEvent event, View view) {
    ledger.append(new EventDraft(event, view.nowNs(), view.wall()));
  }
}
