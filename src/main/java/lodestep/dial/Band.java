package lodestep.dial;

import java.util.Optional;
import lodestep.measure.Acceptance;
import lodestep.measure.SettledReading;
import lodestep.quantity.FluxDensity;

/**
 * What an attempt's last reading is judged against. Any thread, immutable.
 *
 * @param target signed; zero when demagnetising, of a full charge, or while a relative task has no
 *     level yet
 * @param tolerance half width, or the largest reading that counts as uncharged; zero of a full
 *     charge
 * @param guard by how much the tolerance is narrowed on each side
 */
record Band(FluxDensity target, FluxDensity tolerance, FluxDensity guard) {

  private static final FluxDensity ZERO = new FluxDensity(0);

  private static final Band NONE = new Band(ZERO, ZERO, ZERO);

  /** The band by which the planner judges the newest reading of this attempt. */
  static Band of(Dial dial) {
    return dial.work()
        .task()
        .match(
            level -> ofLevel(level, dial),
            down -> asFound(dial).flatMap(down::from).map(l -> ofLevel(l, dial)).orElse(NONE),
            none -> uncharged(none, dial),
            full -> NONE);
  }

  /** What a relative task starts from: the first reading ever of this magnet. */
  private static Optional<FluxDensity> asFound(Dial dial) {
    return dial.work()
        .asFoundBefore()
        .or(() -> dial.progress().asFound().map(SettledReading::value));
  }

  private static Band ofLevel(Task.ToLevel level, Dial dial) {
    double guardTesla =
        dial.progress()
            .last()
            .map(reading -> dial.work().calibration().counted(reading, dial.zero().gauge()))
            .map(dial.work()::ofLevel)
            .map(u -> level.tolerance().tesla() - accepted(level, u))
            .orElse(0.0);
    return new Band(level.target(), level.tolerance(), new FluxDensity(guardTesla));
  }

  private static double accepted(Task.ToLevel level, FluxDensity u) {
    return Acceptance.guarded(level.target(), level.tolerance()).acceptedHalfWidthTesla(u);
  }

  private static Band uncharged(Task.Demagnetise none, Dial dial) {
    double guardTesla =
        dial.progress()
            .last()
            .map(reading -> Acceptance.COVERAGE * reading.standardUncertainty().tesla())
            .orElse(0.0);
    return new Band(ZERO, none.limit(), new FluxDensity(guardTesla));
  }
}
