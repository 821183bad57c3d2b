package lodestep.dial;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import lodestep.dial.RigMemory.SeenEven;
import lodestep.measure.SettledReading;
import lodestep.measure.WarmthWatch;
import lodestep.port.InputLine;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;

/**
 * The charged magnet has been read, and is watched some seconds more before anything is made of it:
 * one that comes from an oven, a soldering iron or a cold shelf reads otherwise until it is as warm
 * as its nest, and the next knock-down would hide that. One that creeps is let lie until it no
 * longer does, and read again. Nothing is energised.
 *
 * @param read the settling that led to the reading
 * @param sinceNs when it was read first
 * @param creep how it crept when last watched, in tesla a second; empty before that is known
 */
record LetEvenOut(
    Settle read, SettledReading reading, long sinceNs, WarmthWatch watch, OptionalDouble creep)
    implements DialState {

  /** Of the expected full charge: what reads less hardly shows its warmth. */
  private static final double READS_LEAST = 0.2;

  /** A rod in a nest is as warm as that in a few minutes; the zero wanders on meanwhile. */
  private static final long LONGEST_NS = 1_200_000_000_000L;

  private static final double PER_MINUTE = 60;

  /**
   * Whether it is still to be seen how warm the magnet is, and this reading can show it. After a
   * knock-down none can: there the magnet itself creeps for a while. Watching takes longer than a
   * reading, so of magnets that are dialed one in a while is watched, and one after each that was
   * warm; one that is read again to be compared is always.
   */
  private static boolean due(Dial dial, SettledReading reading, View view) {
    boolean charged =
        dial.progress().lastMove().map(move -> move.purpose() == Purpose.CHARGE).orElse(true);
    double least = READS_LEAST * dial.work().expectedFull().tesla();
    boolean shows =
        charged && !dial.progress().rested() && reading.value().magnitude().tesla() > least;
    boolean known =
        dial.memory()
            .even()
            .map(seen -> seen.holds(Gauge.temperature(view), view.nowNs()))
            .orElse(false);
    return shows && !dial.even() && (!known || dial.work().again().isPresent());
  }

  /** What follows from a reading: it is taken, or the magnet is watched first. */
  static DialStep orTaken(Settle read, SettledReading reading, View view) {
    return due(read.dial(), reading, view)
        ? DialStep.quiet(
            new LetEvenOut(read, reading, view.nowNs(), WarmthWatch.NONE, OptionalDouble.empty()))
        : read.taken(reading, view);
  }

  @Override
  public Dial dial() {
    return read.dial();
  }

  @Override
  public DialStep step(View view) {
    if (!view.contacts().closed(InputLine.WORK_SEAT)) {
      return DialStep.quiet(
          new Halted(dial(), "the magnet was taken out before it was read to the end"));
    }
    if (!Quiet.is(view, dial().work().limits(), dial().work().knockDown())) {
      return DialStep.quiet(Settle.after(dial(), read.stage(), view.nowNs()));
    }
    WarmthWatch now = watch;
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.Status status) {
        now = now.with(Gauge.tesla(dial(), status), received.receivedAtNs());
      }
    }
    return now.over()
        ? watched(now.drift(), view)
        : DialStep.quiet(new LetEvenOut(read, reading, sinceNs, now, creep));
  }

  private DialStep watched(OptionalDouble drift, View view) {
    if (drift.isEmpty()) {
      return even(view);
    }
    if (view.nowNs() - sinceNs > LONGEST_NS) {
      return DialStep.quiet(
          new Halted(dial(), "the magnet does not come to the warmth of its nest"));
    }
    return DialStep.quiet(new LetEvenOut(read, reading, sinceNs, WarmthWatch.NONE, drift));
  }

  /** The next magnet is watched too where this one was warm. */
  private DialStep even(View view) {
    Optional<SeenEven> seen =
        Optional.of(new SeenEven(Gauge.temperature(view), view.nowNs()))
            .filter(now -> creep.isEmpty());
    Dial told = dial().with(dial().memory().with(seen)).evened();
    return creep.isEmpty()
        ? read.with(told).taken(reading, view)
        : DialStep.quiet(Settle.after(told, read.stage(), view.nowNs()));
  }

  @Override
  public String sentence() {
    return creep.isEmpty()
        ? "seeing whether the magnet is as warm as its nest"
        : String.format(
            Locale.ROOT,
            "the magnet is warmer or colder than its nest: its reading creeps by %+.1f G a minute;"
                + " waiting until it lies still; leave it in its nest",
            new FluxDensity(PER_MINUTE * creep.getAsDouble()).gauss());
  }
}
