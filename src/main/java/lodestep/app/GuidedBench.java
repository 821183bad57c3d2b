package lodestep.app;

import java.util.ArrayDeque;
import java.util.Optional;
import java.util.Queue;
import java.util.function.BooleanSupplier;
import java.util.function.LongConsumer;
import lodestep.bench.Guided;
import lodestep.bench.TypedReading;
import lodestep.cli.HeadWork;
import lodestep.cli.Refusal;
import lodestep.config.Limits;
import lodestep.measure.GaugeCalibration;
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
 * Runs work in which a person is guided at a head alone: the same job and record whatever head is
 * behind it. Confined to one thread; the source and the ledger are its own to the end.
 */
final class GuidedBench {

  private static final long TOLD_NS = 100_000_000L;

  private final HeadSource source;
  private final Gauge gauge;
  private final Ledger ledger;
  private final LongConsumer beforeEachScan;
  private final Queue<LedgerEvent> told = new ArrayDeque<>();
  private final HeadCycle cycle;
  private final Words words;
  private final long beganNs;
  private HeadWork.HandWatcher watcher = new Unheard();
  private Optional<FluxDensity> value = Optional.empty();
  private long newestAtNs;
  private long tellAtNs;
  private String saidLast = "";

  /** How lines become flux density, and when they count as silent. */
  record Gauge(GaugeCalibration calibration, Limits limits) {}

  /**
   * What can be typed.
   *
   * @param all in one line for a person
   * @param usualGauge the gauge meant when a typed reading names none; may be empty
   * @param notes whether other gauges' readings can be typed
   */
  record Words(String all, String usualGauge, boolean notes) {}

  /**
   * @param beforeEachScan brings a virtual ledger to the scan's time; nothing for a real one
   */
  GuidedBench(
      HeadSource source,
      Gauge gauge,
      Guided first,
      Ledger ledger,
      LongConsumer beforeEachScan,
      Words words) {
    this.source = source;
    this.gauge = gauge;
    this.ledger = new ToldLedger(ledger, told::add);
    this.beforeEachScan = beforeEachScan;
    this.words = words;
    this.beganNs = source.nowNs();
    this.newestAtNs = beganNs;
    this.cycle = new HeadCycle(source.link(), this.ledger, source.wall(), gauge.limits(), first);
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
  Guided job() {
    return (Guided) cycle.snapshot().job();
  }

  /**
   * Runs to the end, to a person's "q", or to the end of the program, and closes source and ledger.
   *
   * @param typed lines as a person types them
   * @param stop whether the program is being ended
   * @return the job at its end
   * @throws Refusal when the ledger cannot be written, or a virtual rig is gone
   */
  Guided toTheEnd(HeadWork.HandWatcher listener, Queue<String> typed, BooleanSupplier stop) {
    watcher = listener;
    try {
      while (!job().over()) {
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
    ledger.state().fault().ifPresent(GuidedBench::refuse);
    return job();
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
    ledger.state().fault().ifPresent(GuidedBench::refuse);
    source.gone().ifPresent(GuidedBench::refuse);
  }

  /** One scan. */
  void runScan() {
    source.cue(job().cue());
    source.advance(gauge.limits().scanPeriodNs());
    for (int said = 0; said < source.continues(); said++) {
      cycle.offer(Command.CONTINUE);
    }
    long nowNs = source.nowNs();
    beforeEachScan.accept(nowNs);
    cycle.run(nowNs);
    View view = cycle.snapshot().view();
    if (!view.frames().isEmpty()) {
      view.status().ifPresent(this::read);
    }
    tell(nowNs);
  }

  /** Shown as it comes, by the zero in use; before there is one nothing is shown. */
  private void read(View.Status status) {
    newestAtNs = status.receivedAtNs();
    value =
        job()
            .zero()
            .map(
                zero ->
                    gauge
                        .calibration()
                        .fluxDensity(
                            status.frame().hallCounts(),
                            zero.gauge().counts(),
                            Temperature.ofDegC(status.frame().gaugeCentiDegC() * 1e-2)));
  }

  /** What finds no room in this scan is taken up in the next one. */
  private void takeTyped(Queue<String> typed) {
    // Those there now, not those that come meanwhile: the rig does not wait for a chatterer.
    int there = typed.size();
    while (there > 0 && taken(typed.element().strip())) {
      typed.remove();
      there--;
    }
  }

  private boolean taken(String word) {
    if (word.isEmpty()) {
      return cycle.offer(Command.CONTINUE);
    }
    if (word.equalsIgnoreCase("q")) {
      return cycle.offer(Command.FINISH);
    }
    if (word.equalsIgnoreCase("n")) {
      return skipped();
    }
    note(word);
    return true;
  }

  private boolean skipped() {
    if (job().mayLeaveOut()) {
      return cycle.offer(Command.SKIP);
    }
    watcher.says("There is nothing to leave out just now. " + words.all());
    return true;
  }

  private void note(String word) {
    if (!words.notes()) {
      watcher.says("'" + word + "' means nothing here. " + words.all());
      return;
    }
    try {
      TypedReading reading = TypedReading.read(word, words.usualGauge());
      cycle.note(reading::entry);
      watcher.says(
          "On record as typed, not ours: " + reading.gauge() + " reads " + reading.typed() + ".");
    } catch (IllegalArgumentException wrong) {
      watcher.says(wrong.getMessage() + ". " + words.all());
    }
  }

  private void tell(long nowNs) {
    for (LedgerEvent event = told.poll(); event != null; event = told.poll()) {
      watcher.event(event, seconds());
    }
    Guided now = job();
    boolean news = !now.sentence().equals(saidLast);
    if (news || nowNs - tellAtNs >= 0) {
      saidLast = now.sentence();
      tellAtNs = nowNs + TOLD_NS;
      Optional<String> silence =
          Silence.words(
              newestAtNs, nowNs, gauge.limits().statusAgeTripNs(), source.link().state(nowNs));
      HandCue cue = now.cue();
      watcher.now(new HeadWork.HandLive(now.sentence(), cue, value, seconds(), silence));
    }
  }

  /** Since the start. */
  double seconds() {
    return (source.nowNs() - beganNs) * 1e-9;
  }
}
