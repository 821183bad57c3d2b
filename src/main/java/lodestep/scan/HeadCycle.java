package lodestep.scan;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.LongFunction;
import lodestep.config.Limits;
import lodestep.interlock.InterlockState;
import lodestep.interlock.Permission;
import lodestep.interlock.PermissionRow;
import lodestep.interlock.Permissive;
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
 * request to the head is an error in the program. A stop is handed to the job, which ends by it:
 * there is nothing to let go of and nothing that could trip. {@link #run} and {@link #note} belong
 * to the control thread, the rest to any.
 */
public final class HeadCycle implements Cycle {

  private static final long ASK_AGAIN_NS = 1_000_000_000L;

  private static final Permission NOTHING = Permissive.of(PermissionRow.NOTHING_MET);

  private final HeadLink head;
  private final Ledger ledger;
  private final WallClock wall;
  private final Limits limits;
  private final Mailbox mailbox = new Mailbox();
  private final Notes people = new Notes();
  private final List<LongFunction<LedgerEvent>> notes = new ArrayList<>();
  private NewestStatus status = NewestStatus.NONE;
  private Optional<HeadFrame.Hello> seen = Optional.empty();
  private CycleTimes times = CycleTimes.NONE;
  private long lastNs;
  private long askedAtNs;
  private boolean asked;
  private Job job;
  private volatile Snapshot published;

  /**
   * A cycle that has not run yet.
   *
   * @param limits by which a scan is late
   */
  public HeadCycle(HeadLink head, Ledger ledger, WallClock wall, Limits limits, Job job) {
    this.head = head;
    this.ledger = ledger;
    this.wall = wall;
    this.limits = limits;
    this.job = job;
    this.published = snapshot(view(0, List.of(), List.of()), Optional.empty());
  }

  @Override
  public void askStop() {
    mailbox.askStop();
  }

  @Override
  public boolean offer(Command command) {
    return mailbox.offer(command);
  }

  @Override
  public boolean begin(Job next) {
    return mailbox.begin(next, () -> published.job().rests());
  }

  @Override
  public Notes notes() {
    return people;
  }

  @Override
  public Snapshot snapshot() {
    return published;
  }

  /** Has an entry about the magnet at work made in the next scan in which there is one. */
  public void note(LongFunction<LedgerEvent> aboutMagnet) {
    notes.add(aboutMagnet);
  }

  /**
   * Runs one scan.
   *
   * @throws IllegalStateException if the job wants anything energised
   */
  @Override
  public void run(long nowNs) {
    try {
      scan(nowNs);
    } catch (Throwable thrown) {
      published = snapshot(published.view(), Optional.of(thrown));
      throw thrown;
    }
  }

  /** Nothing is driven and no permit is held: there is nothing to let go of. */
  @Override
  public void close() {
    // Whoever made head and ledger closes them.
  }

  private void scan(long nowNs) {
    List<Command> commands = new ArrayList<>();
    if (mailbox.takeStop()) {
      commands.add(Command.STOP);
    }
    commands.addAll(mailbox.take());
    count(nowNs);
    job = mailbox.follow(job);
    List<ReceivedFrame> frames = head.take();
    status = status.after(frames);
    View view = view(nowNs, frames, commands);
    JobStep step = job.step(view);
    if (!step.wanted().equals(Outputs.ALL_LOW) || step.permit() || !step.requests().isEmpty()) {
      throw new IllegalStateException("work with a head alone has nothing to drive");
    }
    job = step.next();
    step.events().forEach(event -> append(event, view));
    append(frames, view);
    people.append(ledger, nowNs, view.wall());
    published = snapshot(view, Optional.empty());
    // Only now, so that nobody is told "yes" by a job at rest that has just been followed.
    mailbox.makeRoom();
  }

  /** Due one period after the last scan, whenever that was, as in every cycle. */
  private void count(long nowNs) {
    boolean first = times.scans() == 0;
    long lateNs = first ? 0 : Math.max(0, nowNs - lastNs - limits.scanPeriodNs());
    lastNs = nowNs;
    times = times.and(lateNs, lateNs > limits.scanLateFireWaitsNs());
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

  private View view(long nowNs, List<ReceivedFrame> frames, List<Command> commands) {
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

  private Snapshot snapshot(View view, Optional<Throwable> failure) {
    return new Snapshot(
        view,
        Outputs.ALL_LOW,
        Outputs.ALL_LOW,
        NOTHING,
        InterlockState.powerOn(),
        job,
        times,
        failure);
  }

  private void append(LedgerEvent event, View view) {
    ledger.append(new EventDraft(event, view.nowNs(), view.wall()));
  }
}
