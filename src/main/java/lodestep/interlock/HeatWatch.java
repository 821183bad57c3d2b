package lodestep.interlock;

import lodestep.port.OutputLine;
import lodestep.port.ReceivedFrame;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;

/**
 * The coil's heat beside its thermometer: the pulses together not more than the coil bears,
 * whatever the thermometer says; and a thermometer that does not rise with them has come off the
 * winding.
 *
 * @param due whether the report of a pulse is due
 * @param full whether that pulse had the series resistor bridged
 * @param warmth of the coil by its pulses alone
 * @param spent whether that was at the limit, and has not come well below it since
 * @param coldCoilCentiDegC what the thermometer showed when the coil was last cold by reckoning
 * @param coldGaugeCentiDegC what the gauge's showed then
 * @param warm whether it is warm by reckoning, and since when
 * @param unseen pulses in a row, up to {@link #UNSEEN_PULSES}, at which a coil long warm by
 *     reckoning showed no rise
 */
record HeatWatch(
    boolean due,
    boolean full,
    CoilHeat.Warmth warmth,
    boolean spent,
    int coldCoilCentiDegC,
    int coldGaugeCentiDegC,
    Persisting warm,
    int unseen) {

  static final HeatWatch POWER_ON =
      new HeatWatch(false, false, CoilHeat.Warmth.NONE, false, 0, 0, Persisting.NONE, 0);

  /** What a spent coil must cool by reckoning, so that the next pulse does not spend it again. */
  static final double REST_KELVIN = 8;

  /** Below this the coil is cold by reckoning; starting value. */
  static final double COLD_KELVIN = 1;

  /** From here on a thermometer must show some of it; starting value. */
  static final double WARM_KELVIN = 8;

  /** A quarter of that: heat capacity and cooling are what somebody has reckoned or tried. */
  static final int SEEN_CENTI_KELVIN = 200;

  /** So long the heat may take through the insulation to the thermometer; starting value. */
  static final long THROUGH_NS = 60_000_000_000L;

  static final int UNSEEN_PULSES = 3;

  HeatWatch step(Seen seen) {
    if (!seen.figures().heat().present()) {
      return this;
    }
    if (seen.drive().fireRose(seen.nowNs())) {
      return new HeatWatch(
          true,
          seen.driven(OutputLine.COIL_FULL),
          warmth,
          spent,
          coldCoilCentiDegC,
          coldGaugeCentiDegC,
          warm,
          unseen);
    }
    HeatWatch next = due ? reported(seen) : this;
    return next.reckoned(seen).compared(seen);
  }

  private HeatWatch reported(Seen seen) {
    for (ReceivedFrame received : seen.in().frames()) {
      if (received.frame() instanceof HeadFrame.PulseReport report) {
        return heated(report, seen);
      }
    }
    return this;
  }

  private HeatWatch heated(HeadFrame.PulseReport report, Seen seen) {
    CoilHeat heat = seen.figures().heat();
    double amps = Math.max(report.peakForwardMilliAmps(), report.peakReverseMilliAmps()) * 1e-3;
    CoilHeat.Warmth warmer =
        seen.figures().bank()
            ? heat.afterBank(
                warmth,
                report.bankBeforeMilliVolts(),
                report.bankAfterMilliVolts(),
                full,
                seen.nowNs())
            : heat.afterCurrent(warmth, amps * amps * report.durationMicros() * 1e-6, seen.nowNs());
    int missed =
        warm.longerThan(THROUGH_NS, seen.nowNs()) && !shows(seen)
            ? Math.min(UNSEEN_PULSES, unseen + 1)
            : unseen;
    return new HeatWatch(
        false, full, warmer, spent, coldCoilCentiDegC, coldGaugeCentiDegC, warm, missed);
  }

  /** At the limit it is spent; it is no more when it has come well below. */
  private HeatWatch reckoned(Seen seen) {
    boolean now = !seen.figures().heat().bears(warmth, seen.nowNs(), spent ? REST_KELVIN : 0);
    return now == spent
        ? this
        : new HeatWatch(
            due, full, warmth, now, coldCoilCentiDegC, coldGaugeCentiDegC, warm, unseen);
  }

  /** Holds what the thermometer shows against what the pulses have left. */
  private HeatWatch compared(Seen seen) {
    if (!seen.news()) {
      return this;
    }
    double left = seen.figures().heat().leastLeft(warmth, seen.nowNs());
    if (left < COLD_KELVIN) {
      return new HeatWatch(
          due,
          full,
          warmth,
          spent,
          seen.head().coilCentiDegC(),
          seen.head().gaugeCentiDegC(),
          Persisting.NONE,
          0);
    }
    Persisting next = warm.step(left < WARM_KELVIN ? 0 : 1, seen.nowNs());
    int missed = shows(seen) ? 0 : unseen;
    return next.equals(warm) && missed == unseen
        ? this
        : new HeatWatch(
            due, full, warmth, spent, coldCoilCentiDegC, coldGaugeCentiDegC, next, missed);
  }

  /** Alone or against the gauge's, since the room may have grown colder or the nest warm. */
  private boolean shows(Seen seen) {
    int coil = seen.head().coilCentiDegC() - coldCoilCentiDegC;
    int gauge = seen.head().gaugeCentiDegC() - coldGaugeCentiDegC;
    return Math.max(coil, coil - gauge) >= SEEN_CENTI_KELVIN;
  }

  long causes() {
    return Causes.when(spent, TripCause.COIL_HEAT_SPENT)
        | Causes.when(unseen >= UNSEEN_PULSES, TripCause.COIL_RISE_UNSEEN);
  }
}
