package lodestep.scan;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.interlock.Condition;
import lodestep.interlock.InterlockInputs;
import lodestep.interlock.InterlockLogic;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.interlock.InterlockStep;
import lodestep.interlock.Permission;
import lodestep.interlock.PermissionRow;
import lodestep.interlock.Permissive;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.EventDraft;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.PlanAnswer;
import lodestep.port.ReceivedFrame;
import lodestep.port.Trip;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/**
 * The control loop's one cycle, and the only place where an output is set: stop flag, read lines
 * and all frames, interlocks, job, lower, drive, read back, heartbeat, publish. {@link #run} and
 * {@link #close} belong to the control thread; {@link #askStop}, {@link #offer} and {@link
 * #snapshot} to any.
 *
 * <p>After {@link #close}, and after anything thrown, the outputs are low and no later call raises
 * one. An exception of the job alone is a trip: everything that stores or releases energy is
 * lowered in the same scan, the job is stepped no more, and the scans go on, so that the coil's
 * relays are not switched under current.
 */
public final class ScanCycle implements Cycle {

  private static final int HEARTBEATS = 65_536;

  /** An answer needs two or three scans; a tenth of a second leaves room on the line. */
  private static final int ASK_WHO_SCANS = 20;

  private final ScanPorts ports;
  private final InterlockLogic logic;
  private final InterlockSettings settings;
  private final Mailbox mailbox = new Mailbox();
  private final LatenessHistogram histogram = new LatenessHistogram();
  private final Notes notes = new Notes();

  private Job job;
  private InterlockState interlocks;
  private NewestStatus status = NewestStatus.NONE;
  private Outputs driven = Outputs.ALL_LOW;
  private Outputs readBack = Outputs.ALL_LOW;
  private CycleTimes times = CycleTimes.NONE;
  private long lastNs;
  private int heartbeat;
  private int scansUnasked;
  private Optional<Throwable> failure = Optional.empty();
  private boolean closed;
  private volatile Snapshot published;

  /**
   * A cycle that has not run yet.
   *
   * @param atPowerOn the interlocks' first state: {@link InterlockState#powerOn()}, or with the
   *     trip that stood when the program last ended
   */
  public ScanCycle(ScanPorts ports, InterlockSettings settings, InterlockState atPowerOn, Job job) {
    this.ports = ports;
    this.logic = new InterlockLogic(settings);
    this.settings = settings;
    this.interlocks = atPowerOn;
    this.job = job;
    this.published =
        new Snapshot(
            ports.nothingRead(),
            driven,
            readBack,
            Permissive.of(atPowerOn.row()),
            atPowerOn,
            job,
            times,
            failure);
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
    return notes;
  }

  @Override
  public Snapshot snapshot() {
    return published;
  }

  /** How late the scans came; goes on counting while it is read. */
  public LatenessHistogram histogram() {
    return histogram;
  }

  /**
   * Runs one scan. Control thread only; never blocks.
   *
   * @param nowNs monotonic time, never less than the last scan's
   * @throws IllegalStateException after {@link #close} or a failure, or when time runs backwards
   */
  @Override
  public void run(long nowNs) {
    if (closed) {
      throw new IllegalStateException("this cycle is closed; its outputs stay low");
    }
    try {
      scan(nowNs);
    } catch (Throwable thrown) {
      letGo(thrown);
      throw thrown;
    }
  }

  /** Lowers every output and tells the head to let go. Control thread only. */
  @Override
  public void close() {
    if (closed) {
      return;
    }
    closed = true;
    try {
      driven = Outputs.ALL_LOW;
      readBack = ports.lines().drive(Outputs.ALL_LOW);
    } finally {
      ports.head().stop();
    }
  }

  private void scan(long nowNs) {
    boolean stopAsked = mailbox.takeStop();
    long lateNs = lateNs(nowNs);
    List<Command> commands = mailbox.take();
    job = mailbox.follow(job);
    Contacts contacts = ports.lines().read(nowNs);
    List<ReceivedFrame> frames = ports.head().take();
    LinkState link = ports.head().state(nowNs);
    status = status.after(frames);
    InterlockStep judged =
        logic.step(interlocks, inputs(nowNs, lateNs, contacts, frames, link, stopAsked));
    Instant wall = ports.wall().now();
    judged = act(judged, nowNs, wall);
    Optional<PlanAnswer> plan = ports.desk().take(nowNs);
    View view = view(nowNs, wall, contacts, frames, link, judged, commands, plan);
    JobStep wanted = failure.isPresent() ? nothing() : stepped(view);
    if (failure.isPresent()) {
      String detail = failure.get().toString();
      judged = act(logic.programError(interlocks, detail, nowNs), nowNs, wall);
    }
    apply(wanted, judged, view);
    noteHead(nowNs, wall);
    view.proof().ifPresent(proof -> append(proof, nowNs, wall));
    notes.append(ports.ledger(), nowNs, wall);
    tell(wanted, judged, lateNs);
    publish(view, judged);
    // Only now, so that nobody is told "yes" by a job at rest that has just been followed.
    mailbox.makeRoom();
  }

  private InterlockInputs inputs(
      long nowNs,
      long lateNs,
      Contacts contacts,
      List<ReceivedFrame> frames,
      LinkState link,
      boolean stopAsked) {
    return new InterlockInputs(
        nowNs,
        lateNs,
        contacts,
        frames,
        status.line(),
        link,
        driven,
        readBack,
        ports.ledger().state(),
        stopAsked,
        failure.isPresent());
  }

  private long lateNs(long nowNs) {
    boolean first = times.scans() == 0;
    if (!first && nowNs - lastNs < 0) {
      throw new IllegalStateException(
          "monotonic time ran backwards by " + (lastNs - nowNs) + " ns; the clock is broken");
    }
    // Due one period after the last scan, whenever that was: what is missed is not caught up with.
    long lateNs = first ? 0 : Math.max(0, nowNs - lastNs - settings.scanPeriodNs());
    lastNs = nowNs;
    times = times.and(lateNs, lateNs > settings.scanLateNs());
    histogram.add(lateNs);
    return lateNs;
  }

  /** Takes the interlocks' verdict over; at a trip everything is let go before it is told. */
  private InterlockStep act(InterlockStep judged, long nowNs, Instant wall) {
    interlocks = judged.next();
    if (judged.tripped().isPresent()) {
      drive(judged, Outputs.ALL_LOW);
      ports.head().stop();
      Trip trip = judged.tripped().get();
      String what = trip.cause().what();
      append(
          new LedgerEvent.Tripped(trip.cause().code(), what, trip.detail(), job.magnet()),
          nowNs,
          wall);
    }
    if (judged.reset().isPresent()) {
      append(new LedgerEvent.TripReset(judged.reset().get().cause().code()), nowNs, wall);
    }
    return judged;
  }

  private View view(
      long nowNs,
      Instant wall,
      Contacts contacts,
      List<ReceivedFrame> frames,
      LinkState link,
      InterlockStep judged,
      List<Command> commands,
      Optional<PlanAnswer> plan) {
    return new View(
        nowNs,
        wall,
        contacts,
        frames,
        status.line(),
        link,
        readBack,
        judged.permission().allowed(),
        judged.next().row().met(Condition.BANK_PROVEN),
        proven(judged.next()),
        judged.next().trip(),
        ports.ledger().nextNumber(),
        ports.ledger().state(),
        commands,
        plan);
  }

  /** Steps the job. An exception in it is kept, and the scan goes on to lower what it drove. */
  private JobStep stepped(View view) {
    try {
      return job.step(view);
    } catch (RuntimeException thrown) {
      failure = Optional.of(thrown);
      return nothing();
    }
  }

  private JobStep nothing() {
    return JobStep.stay(job, Outputs.ALL_LOW, false);
  }

  private void apply(JobStep step, InterlockStep judged, View view) {
    job = step.next();
    List<LedgerEvent> events = step.events();
    for (int i = 0; i < events.size(); i++) {
      append(events.get(i), view.nowNs(), view.wall());
    }
    drive(judged, step.wanted());
  }

  /** After the job's own events, which have been numbered already. */
  private void noteHead(long nowNs, Instant wall) {
    if (interlocks.met().isPresent()) {
      HeadFrame.Hello hello = interlocks.met().get();
      append(
          new LedgerEvent.HeadSeen(
              hello.serialNumber(),
              hello.protocolVersion(),
              hello.firmwareVersion(),
              hello.bootId(),
              hello.watchdogProven()),
          nowNs,
          wall);
    }
  }

  private Optional<LedgerEvent.BankProven> proven(InterlockState state) {
    return state
        .bankProof()
        .map(
            proof ->
                new LedgerEvent.BankProven(
                    job.magnet(),
                    proof.filledMilliVolts(),
                    proof.heldMilliVolts(),
                    proof.heldMicros(),
                    proof.coilMilliAmps(),
                    proof.bledMilliVolts(),
                    proof.bledMicros()));
  }

  private void drive(InterlockStep judged, Outputs wanted) {
    driven = judged.permission().lower(wanted, driven);
    readBack = ports.lines().drive(driven);
  }

  /** Only questions while a trip stands, which energise nothing; the heartbeat if all was good. */
  private void tell(JobStep step, InterlockStep judged, long lateNs) {
    if (step.question().isPresent()) {
      ports.desk().ask(step.question().get());
    }
    List<HeadRequest> requests = step.requests();
    boolean tripped = judged.next().trip().isPresent();
    for (int i = 0; i < requests.size(); i++) {
      if (!tripped || requests.get(i) instanceof HeadRequest.AskPulse) {
        ports.head().offer(requests.get(i));
      }
    }
    askWho();
    if (lateNs <= settings.scanLateNs() && readBack.equals(driven)) {
      boolean permit = step.permit() && judged.permission().permit();
      ports.head().offer(new HeadRequest.Heartbeat(heartbeat, permit));
      heartbeat = (heartbeat + 1) % HEARTBEATS;
    }
  }

  /** Also while a trip stands: asking energises nothing, and the answer may end the cause. */
  private void askWho() {
    if (interlocks.headHasSaidWho()) {
      scansUnasked = 0;
      return;
    }
    if (scansUnasked == 0) {
      ports.head().offer(new HeadRequest.AskHello());
    }
    scansUnasked = (scansUnasked + 1) % ASK_WHO_SCANS;
  }

  private void append(LedgerEvent event, long nowNs, Instant wall) {
    ports.ledger().append(new EventDraft(event, nowNs, wall));
  }

  private void publish(View view, InterlockStep judged) {
    published =
        new Snapshot(view, driven, readBack, judged.permission(), interlocks, job, times, failure);
  }

  /** The way out after anything thrown: outputs low first, then the rest; hides no error. */
  private void letGo(Throwable thrown) {
    failure = Optional.of(thrown);
    try {
      close();
    } catch (RuntimeException more) {
      thrown.addSuppressed(more);
    }
    Permission nothing = Permissive.of(PermissionRow.NOTHING_MET);
    published =
        new Snapshot(published.view(), driven, readBack, nothing, interlocks, job, times, failure);
  }
}
