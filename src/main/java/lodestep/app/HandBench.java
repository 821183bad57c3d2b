package lodestep.app;

import java.util.ArrayDeque;
import java.util.Optional;
import java.util.Queue;
import java.util.function.BooleanSupplier;
import java.util.function.LongConsumer;
import lodestep.bench.HandJob;
import lodestep.bench.HandWork;
import lodestep.bench.LedgerStart;
import lodestep.bench.TypedReading;
import lodestep.cli.HeadWork;
import lodestep.cli.Refusal;
import lodestep.port.Command;
import lodestep.port.EventDraft;
import lodestep.port.HandCue;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.View;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import lodestep.scan.HeadCycle;

/**
 * Work by hand with a head alone, from the empty seat to the verdict: the same job and record
 * whatever head is behind it. Confined to one thread; the source and the ledger are its own to the
 * end.
 */
final class HandBench {

  /** What can be typed, in one line for a person. */
  static final String WORDS =
      "Type Enter when a thing is done, n when there is nothing stronger to charge with, q to end,"
          + " or another gauge's reading: 380 G by shelf gauge.";

  private static final long TOLD_NS = 100_000_000L;

  private final HeadSource source;
  private final HandWork work;
  private final Ledger ledger;
  private final LongConsumer beforeEachScan;
  private final Queue<LedgerEvent> told = new ArrayDeque<>();
  private final HeadCycle cycle;
  private final String usualGauge;
  private final long beganNs;
  private HeadWork.HandWatcher watcher = new Unheard();
  private Optional<FluxDensity> value = Optional.empty();
  private long newestAtNs;
  private long tellAtNs;
  private String saidLast = "";

  /**
   * @param beforeEachScan brings a virtual ledger to the scan's time; nothing for a real one
   * @param usualGauge the gauge meant when a typed reading names none; may be empty
   */
  HandBench(
      HeadSource source,
      HandWork work,
      LedgerStart start,
      Ledger ledger,
      LongConsumer beforeEachScan,
      String usualGauge) {
    this.source = source;
    this.work = work;
    this.ledger = new ToldLedger(ledger, told::add);
    this.beforeEachScan = beforeEachScan;
    this.usualGauge = usualGauge;
    this.beganNs = source.nowNs();
    this.newestAtNs = beganNs;
    this.cycle =
        new HeadCycle(
            source.link(), this.ledger, source.wall(), HandJob.begin(work, start.prologue()));
  }

  /** Who is told nothing. */
  private static final class Unheard implements HeadWork.HandWatcher {
    @Override
    public void event(LedgerEvent event, double seconds) {
      // Nobody listens yet.
    }

    @Override
    public void now(HeadWork.HandLive live) {
      // Nobody listens yet.
    }

    @Override
    public void says(String sentence) {
      // Nobody listens yet.
    }
  }

  /** The job as it stands. */
  HandJob job() {
    return (HandJob) cycle.job();
  }

  /**
   * Runs to the verdict, to a person's "q", or to the end of the program, and closes source and
   * ledger.
   *
   * @param typed lines as a person types them
   * @param stop whether the program is being ended
   * @throws Refusal when the ledger cannot be written, or a virtual rig is gone
   */
  HeadWork.HandOutcome toTheEnd(
      HeadWork.HandWatcher listener, Queue<String> typed, BooleanSupplier stop) {
    watcher = listener;
    try {
      while (!(job() instanceof HandJob.Done)) {
        if (stop.getAsBoolean()) {
          cycle.offer(Command.FINISH);
        }
        takeTyped(typed);
        runScan();
        requireSound();
      }
      ledger.append(
          new EventDraft(
              new LedgerEvent.ProgramStopped("the work by hand is over"),
              source.nowNs(),
              source.wall().now()));
    } finally {
      close();
    }
    ledger.state().fault().ifPresent(HandBench::refuse);
    HandJob.Done done = (HandJob.Done) job();
    return new HeadWork.HandOutcome(done.hand(), done.verdict(), done.why(), seconds());
  }

  private void close() {
    try {
      source.close();
    } finally {
      ledger.close();
    }
  }

  private static void refuse(String fault) {
    throw new Refusal(fault);
  }

  private void requireSound() {
    ledger.state().fault().ifPresent(HandBench::refuse);
    source.gone().ifPresent(HandBench::refuse);
  }

  /** One scan. */
  void runScan() {
    source.cue(job().cue());
    source.advance(work.limits().scanPeriodNs());
    for (int said = 0; said < source.continues(); said++) {
      cycle.offer(Command.CONTINUE);
    }
    long nowNs = source.nowNs();
    beforeEachScan.accept(nowNs);
    boolean came = !cycle.run(nowNs).isEmpty();
    if (came) {
      cycle.status().ifPresent(this::read);
    }
    tell(nowNs);
  }

  /** Shown as it comes, by the zero in use; before there is one nothing is shown. */
  private void read(View.Status status) {
    newestAtNs = status.receivedAtNs();
    value =
        job()
            .hand()
            .zero()
            .map(
                zero ->
                    work.calibration()
                        .fluxDensity(
                            status.frame().hallCounts(),
                            zero.gauge().counts(),
                            Temperature.ofDegC(status.frame().gaugeCentiDegC() * 1e-2)));
  }

  private void takeTyped(Queue<String> typed) {
    for (String line = typed.poll(); line != null; line = typed.poll()) {
      String word = line.strip();
      if (word.isEmpty()) {
        cycle.offer(Command.CONTINUE);
      } else if (word.equalsIgnoreCase("q")) {
        cycle.offer(Command.FINISH);
      } else if (word.equalsIgnoreCase("n")) {
        skip();
      } else {
        note(word);
      }
    }
  }

  private void skip() {
    if (job() instanceof HandJob.Charging charging && charging.proving()) {
      cycle.offer(Command.SKIP);
    } else {
      watcher.says("There is nothing to leave out just now. " + WORDS);
    }
  }

  private void note(String word) {
    try {
      TypedReading reading = TypedReading.read(word, usualGauge);
      cycle.note(reading::entry);
      watcher.says(
          "On record as typed, not ours: " + reading.gauge() + " reads " + reading.typed() + ".");
    } catch (IllegalArgumentException wrong) {
      watcher.says(wrong.getMessage() + ". " + WORDS);
    }
  }

  private void tell(long nowNs) {
    for (LedgerEvent event = told.poll(); event != null; event = told.poll()) {
      watcher.event(event, seconds());
    }
    HandJob now = job();
    boolean news = !now.sentence().equals(saidLast);
    if (news || nowNs - tellAtNs >= 0) {
      saidLast = now.sentence();
      tellAtNs = nowNs + TOLD_NS;
      Optional<String> silence =
          Silence.words(
              newestAtNs, nowNs, work.limits().statusAgeTripNs(), source.link().state(nowNs));
      HandCue cue = now.cue();
      watcher.now(new HeadWork.HandLive(now.sentence(), cue, value, seconds(), silence));
    }
  }

  private double seconds() {
    return (source.nowNs() - beganNs) * 1e-9;
  }
}
