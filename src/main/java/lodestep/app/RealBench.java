package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.Guided;
import lodestep.bench.LedgerStart;
import lodestep.bench.Standby;
import lodestep.cli.Program;
import lodestep.config.RigConfig;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.port.Command;
import lodestep.port.EventDraft;
import lodestep.port.Job;
import lodestep.port.LedgerEvent;
import lodestep.port.LinesException;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.scan.Cycle;
import lodestep.scan.HeadCycle;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import lodestep.scan.Snapshot;

/**
 * The whole host in real time: the same job, interlocks and scan as on the virtual rig, or the
 * cycle of a head alone, on a thread of their own. Its ports are its own from the start, and are
 * closed when the loop has ended, on the loop's thread and in this order: lines, head, planner,
 * ledger.
 */
final class RealBench {

  private static final Outputs POWER =
      Outputs.high(
          OutputLine.BANK_FILL,
          OutputLine.BANK_HOLD,
          OutputLine.COIL_FIRE,
          OutputLine.COIL_REVERSE,
          OutputLine.COIL_FULL,
          OutputLine.COIL_ON,
          OutputLine.JIG_ENABLE);

  /** How often a watcher is told; people read no faster. */
  private static final long LOOK_MS = 100;

  private final Queue<LedgerEvent> told = new ConcurrentLinkedQueue<>();
  private final ScanPorts ports;
  private final Cycle scan;
  private final LoopRunner runner;
  private final Pace pace;
  private final CountDownLatch ended = new CountDownLatch(1);
  private final List<Throwable> closingFailures = new ArrayList<>();

  /**
   * A bench with its batch waiting to begin.
   *
   * @param start what the ledger left
   */
  RealBench(RigConfig rig, ScanPorts given, Pace pace, Batch batch, LedgerStart start) {
    this.ports =
        new ScanPorts(
            given.lines(),
            given.head(),
            new ToldLedger(given.ledger(), told::add),
            given.desk(),
            given.wall());
    this.pace = pace;
    BatchJob first = BatchJob.begin(batch, start.prologue(), start.recall());
    this.scan = cycle(rig, start, first);
    this.runner = runner(rig, RealBench::isOver);
  }

  /** A bench that waits for work, and goes on waiting when it is done. */
  RealBench(RigConfig rig, ScanPorts ports, Pace pace, LedgerStart start, Standby first) {
    this.ports = ports;
    this.pace = pace;
    this.scan = cycle(rig, start, first);
    this.runner = runner(rig, snapshot -> snapshot.failure().isPresent() && isLow(snapshot));
  }

  /** Of a head alone nothing is driven, so there is nothing for interlocks to judge. */
  private Cycle cycle(RigConfig rig, LedgerStart start, Job first) {
    return rig.headAlone()
        ? new HeadCycle(ports.head(), ports.ledger(), ports.wall(), rig.limits(), first)
        : new ScanCycle(
            ports,
            InterlockSettings.of(rig),
            InterlockState.powerOn(start.standing(pace.nowNs())),
            first);
  }

  private LoopRunner runner(RigConfig rig, Predicate<Snapshot> over) {
    return new LoopRunner(
        scan, pace, rig.limits().scanPeriodNs(), new LoopRunner.Ending(over, RealBench::isAtRest));
  }

  /** The batch has ended, or can no longer go on because the program found an error in itself. */
  private static boolean isOver(Snapshot snapshot) {
    boolean over = snapshot.job() instanceof BatchJob.Done || snapshot.failure().isPresent();
    return over && isLow(snapshot);
  }

  /** Nothing is energised, and no pulse waits for its entry. */
  static boolean isAtRest(Snapshot snapshot) {
    boolean cut =
        snapshot.job() instanceof BatchJob.Dialing
            || (snapshot.job() instanceof BatchJob.Tripped tripped && tripped.cut().isPresent());
    return isLow(snapshot) && !cut;
  }

  private static boolean isLow(Snapshot snapshot) {
    return snapshot.driven().only(POWER).equals(Outputs.ALL_LOW);
  }

  /** The cycle that it runs. */
  Cycle scan() {
    return scan;
  }

  /** Waits until the loop has ended and the ports are closed. */
  boolean awaitEnd(long milliseconds) throws InterruptedException {
    return ended.await(milliseconds, TimeUnit.MILLISECONDS);
  }

  /** Hands a command to the job. Any thread. */
  boolean offer(Command command) {
    return scan.offer(command);
  }

  /** Lowers the lines from outside the loop, where it hangs. Any thread. */
  void closeLines() {
    ports.lines().close();
  }

  /** Asks for a stop, and for the end of the run once the rig has let go. Any thread. */
  void askStop() {
    runner.askStop();
  }

  /** What the newest scan came to. Any thread. */
  Snapshot snapshot() {
    return scan.snapshot();
  }

  /** Runs the loop to its end on this thread, and closes the ports. */
  void run() {
    try {
      runner.run();
      recordTheEnd();
    } finally {
      closeEach(ports.lines(), ports.head(), ports.desk(), ports.ledger());
      ended.countDown();
    }
  }

  /** An end by a failure is told by the failure, and by the next start's record. */
  private void recordTheEnd() {
    if (failure().isEmpty()) {
      boolean resting = snapshot().job().rests();
      String why = resting ? "the batch is over" : "stopped before the batch was over";
      boolean guided = snapshot().job() instanceof Guided;
      why = guided ? "the readings are " + (resting ? "over" : "left") : why;
      why = snapshot().job() instanceof Standby ? "ended by a person" : why;
      LedgerEvent stopped = new LedgerEvent.ProgramStopped(why);
      ports.ledger().append(new EventDraft(stopped, pace.nowNs(), ports.wall().now()));
    }
  }

  /** Closes each one, whatever another throws. */
  private void closeEach(AutoCloseable... parts) {
    for (AutoCloseable part : parts) {
      try {
        part.close();
      } catch (Throwable thrown) {
        closingFailures.add(thrown);
      }
    }
  }

  /**
   * Runs the loop on a thread of its own, and tells a watcher what changes until it has ended.
   *
   * @throws IllegalStateException when the program found an error in itself; everything is low
   */
  Program.Outcome toTheEnd(Program.Watcher watcher) {
    Thread control = new Thread(this::run, "control");
    Telling telling = new Telling(watcher, told, ((BatchJob) snapshot().job()).batch());
    long begunNs = pace.nowNs();
    Shutdown shutdown =
        Shutdown.standingBy(this::askStop, ports.lines()::close, System.err::println);
    try {
      control.start();
      while (!awaitEnd()) {
        telling.look(snapshot(), seconds(begunNs));
      }
    } finally {
      shutdown.close();
    }
    telling.look(snapshot(), seconds(begunNs));
    failure().ifPresent(thrown -> tell(thrown, telling));
    Batch batch = ((BatchJob) snapshot().job()).batch();
    double seconds = seconds(begunNs);
    return new Program.Outcome(batch, telling.tripped(), runner.stopAsked(), seconds, seconds);
  }

  /** What ended the run before its time, or could not be closed after it. */
  Optional<Throwable> failure() {
    return runner
        .failure()
        .or(() -> snapshot().failure())
        .or(() -> closingFailures.stream().findFirst());
  }

  /** A line that failed is a matter of the rig; anything else is an error in the program. */
  private static void tell(Throwable thrown, Telling telling) {
    if (thrown instanceof LinesException failed) {
      telling.trip(failed.sentence());
      return;
    }
    throw new IllegalStateException(
        "the program found an error in itself and lowered everything; the rest of this message is"
            + " for whoever repairs it",
        thrown);
  }

  private boolean awaitEnd() {
    try {
      return ended.await(LOOK_MS, TimeUnit.MILLISECONDS);
    } catch (InterruptedException asked) {
      // Whoever wants this thread back wants the rig stopped; its end is still waited for.
      askStop();
      return false;
    }
  }

  private double seconds(long begunNs) {
    return (pace.nowNs() - begunNs) * 1e-9;
  }
}
