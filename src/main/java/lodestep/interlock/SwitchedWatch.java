package lodestep.interlock;

import java.util.Optional;
import lodestep.port.OutputLine;
import lodestep.port.ReceivedFrame;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;

/**
 * A switched coil's pulses: as strong as their level, and no longer than their limit. Nothing but
 * the switch ends such a pulse, so its current is looked at while it flows too.
 *
 * @param expected what the pulse that was released last may carry; empty before the first
 * @param awaited whether its report is due
 * @param seenMilliAmps the current that was off, 0 while none is
 * @param tooLongMicros the length that was too long, 0 while none is
 */
record SwitchedWatch(
    Optional<SwitchedFigures.Between> expected,
    boolean awaited,
    int seenMilliAmps,
    long tooLongMicros) {

  static final SwitchedWatch POWER_ON = new SwitchedWatch(Optional.empty(), false, 0, 0);

  /** After this the current has come to rest: several time constants of any such coil. */
  static final long RISEN_NS = 15_000_000L;

  /** What a dying current adds to the pulse's length, and the head's and host's own steps. */
  static final long LENGTH_MARGIN_NS = 40_000_000L;

  SwitchedWatch step(Seen seen) {
    if (seen.figures().switched().isEmpty()) {
      return this;
    }
    SwitchedFigures figures = seen.figures().switched().get();
    if (seen.drive().fireRose(seen.nowNs())) {
      double degC = seen.head().coilCentiDegC() * 0.01;
      return new SwitchedWatch(Optional.of(figures.current(seen.in().driven(), degC)), true, 0, 0);
    }
    return reported(seen)
        .filter(report -> awaited)
        .map(report -> judged(report, figures))
        .orElseGet(() -> flowing(figures, seen));
  }

  private static Optional<HeadFrame.PulseReport> reported(Seen seen) {
    for (ReceivedFrame received : seen.in().frames()) {
      if (received.frame() instanceof HeadFrame.PulseReport report) {
        return Optional.of(report);
      }
    }
    return Optional.empty();
  }

  private SwitchedWatch judged(HeadFrame.PulseReport report, SwitchedFigures figures) {
    int peak = Math.max(report.peakForwardMilliAmps(), report.peakReverseMilliAmps());
    boolean off = report.fired() && !expected.orElseThrow().holds(peak);
    long limitMicros = (figures.supply().longestNs() + LENGTH_MARGIN_NS) / 1000;
    long tooLong = report.durationMicros() > limitMicros ? report.durationMicros() : 0;
    return new SwitchedWatch(expected, false, off ? Math.max(1, peak) : 0, tooLong);
  }

  private SwitchedWatch flowing(SwitchedFigures figures, Seen seen) {
    int now = Math.abs(seen.head().coilMilliAmps());
    long firingNs = seen.nowNs() - seen.drive().fireSinceNs();
    boolean pulse = seen.news() && seen.drive().fire() && firingNs > RISEN_NS;
    boolean over = pulse && now > expected.map(SwitchedFigures.Between::most).orElse(0);
    // Whether or not current is seen: a gate that is kept is worth nothing against a second pulse.
    boolean longer =
        seen.drive().fire() && firingNs > figures.supply().longestNs() + LENGTH_MARGIN_NS;
    SwitchedWatch next =
        new SwitchedWatch(expected, awaited, over ? now : 0, longer ? firingNs / 1000 : 0);
    return next.equals(this) ? this : next;
  }

  long causes() {
    return Causes.when(tooLongMicros > 0, TripCause.PULSE_TOO_LONG)
        | Causes.when(seenMilliAmps > 0, TripCause.CURRENT_OFF_LEVEL);
  }

  /** The level that is driven, in words. */
  static String level(Seen seen) {
    return seen.driven(OutputLine.COIL_FULL)
        ? "charging range"
        : "level " + SwitchedFigures.level(seen.in().driven());
  }
}
