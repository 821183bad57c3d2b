package lodestep.app;

import java.util.Locale;
import java.util.Optional;
import java.util.Queue;
import java.util.function.BooleanSupplier;
import lodestep.cli.HeadWork;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.LiveReading;
import lodestep.measure.SettlingRule;
import lodestep.measure.Zeroing;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/** Reads a head live and tells a watcher; takes what a person types. Confined to one thread. */
final class LiveRun {

  /** What can be typed, in one line for a person. */
  static final String WORDS =
      "Type a letter and Enter: h hold or let go, r reset smallest and largest, z zero (only with"
          + " the seat empty), q end.";

  private static final long STEP_NS = 20_000_000L;
  private static final long TOLD_NS = 100_000_000L;

  /**
   * A first zero further from none than this is no offset of a gauge. Common practice, no source.
   */
  private static final double OFFSET_MAX_TESLA = 2e-3;

  private final HeadSource source;
  private final HeadWork.ReadRun run;
  private final HeadWork.LiveWatcher watcher;
  private final Queue<String> typed;
  private final BooleanSupplier stop;
  private final GaugeCalibration calibration;
  private LiveReading reading;
  private Optional<Zeroing> zeroing = Optional.empty();
  private boolean zeroed;
  private boolean ended;
  private long newestAtNs;
  private long zeroFromNs;

  /**
   * @param typed lines as a person types them
   * @param stop whether the program is being ended
   */
  LiveRun(
      HeadSource source,
      HeadWork.ReadRun run,
      GaugeCalibration calibration,
      HeadWork.LiveWatcher watcher,
      Queue<String> typed,
      BooleanSupplier stop) {
    this.source = source;
    this.run = run;
    this.calibration = calibration;
    this.watcher = watcher;
    this.typed = typed;
    this.stop = stop;
    this.reading = LiveReading.start(calibration, 0);
  }

  /** Reads until the time is over, a person ends it, or a virtual hand has shown its magnets. */
  void toTheEnd() {
    long beganNs = source.nowNs();
    newestAtNs = beganNs;
    long tellAtNs = beganNs + TOLD_NS;
    watcher.begins();
    if (run.zeroFirst()) {
      beginZero();
    } else {
      watcher.says("No zero has been taken: the gauge's offset is in the reading.");
    }
    while (!ended && !stop.getAsBoolean()) {
      source.cue(Showing.cue(seconds(beganNs)));
      source.advance(STEP_NS);
      source.link().take().forEach(this::take);
      takeTyped();
      judgeZero();
      if (source.nowNs() - tellAtNs >= 0) {
        tellAtNs = source.nowNs() + TOLD_NS - STEP_NS / 2;
        watcher.live(live(beganNs));
      }
      ended |= over(seconds(beganNs));
    }
    watcher.live(live(beganNs));
  }

  private boolean over(double seconds) {
    boolean shown = !(source instanceof RealHead) && seconds >= Showing.SECONDS;
    return run.forSeconds().map(until -> seconds >= until).orElse(shown)
        || source.gone().isPresent();
  }

  private double seconds(long beganNs) {
    return (source.nowNs() - beganNs) * 1e-9;
  }

  private HeadWork.Live live(long beganNs) {
    long nowNs = source.nowNs();
    Optional<String> silence =
        source
            .gone()
            .or(
                () ->
                    Silence.words(
                        newestAtNs,
                        nowNs,
                        run.rig().limits().statusAgeTripNs(),
                        source.link().state(nowNs)));
    return new HeadWork.Live(reading, seconds(beganNs), nowNs, silence);
  }

  private void take(ReceivedFrame received) {
    if (received.frame() instanceof HeadFrame.Status status) {
      newestAtNs = received.receivedAtNs();
      Temperature gauge = Temperature.ofDegC(status.gaugeCentiDegC() * 1e-2);
      reading = reading.with(status.hallCounts(), gauge, received.receivedAtNs());
      // A line that came before may show the magnet being taken out.
      if (received.receivedAtNs() - zeroFromNs >= 0) {
        zeroing = zeroing.map(taking -> taking.with(status.hallCounts(), received.receivedAtNs()));
      }
    }
  }

  private void takeTyped() {
    for (int there = typed.size(); there > 0; there--) {
      String line = typed.remove();
      switch (line.strip().toLowerCase(Locale.ROOT)) {
        case "h" -> reading = reading.holdOrRelease();
        case "r" -> reading = reading.reset();
        case "z" -> beginZero();
        case "q" -> ended = true;
        default -> watcher.says(WORDS);
      }
    }
  }

  private void beginZero() {
    zeroFromNs = source.nowNs();
    zeroing = Optional.of(Zeroing.start(SettlingRule.zero(calibration), zeroFromNs));
    watcher.says("Taking the zero: leave the seat empty and hands off.");
  }

  private void judgeZero() {
    if (zeroing.isEmpty()) {
      return;
    }
    zeroing
        .get()
        .outcome()
        .match(
            continues -> false,
            taken -> zeroIs(taken.zero().counts()),
            not -> noZero("No zero: " + not.why() + "."));
  }

  private boolean zeroIs(double counts) {
    double limit = zeroed ? run.rig().limits().zeroJump().tesla() : OFFSET_MAX_TESLA;
    double jump = Math.abs(counts - reading.zeroCounts()) / calibration.countsPerTesla();
    if (jump > limit) {
      return noZero(
          "No zero: it would jump by "
              + new FluxDensity(jump).inGauss()
              + "; see that the seat is empty and no magnet, steel or phone lies near.");
    }
    reading = reading.withZero(counts);
    zeroed = true;
    zeroing = Optional.empty();
    watcher.says("The zero is taken.");
    return true;
  }

  private boolean noZero(String why) {
    zeroing = Optional.empty();
    watcher.says(why);
    return false;
  }

  /** How a virtual hand shows its magnets: the seat empty, then one after another. */
  static final class Showing {

    /** How many it shows. */
    static final int PIECES = 3;

    private static final double EMPTY_SECONDS = 4;
    private static final double EACH_SECONDS = 9;
    static final double SECONDS = PIECES * EACH_SECONDS + 1;

    private Showing() {}

    static HandCue cue(double seconds) {
      boolean empty = seconds >= PIECES * EACH_SECONDS || seconds % EACH_SECONDS < EMPTY_SECONDS;
      return HandCue.of(empty ? HandAsk.TAKE_OUT : HandAsk.SEAT);
    }
  }
}
