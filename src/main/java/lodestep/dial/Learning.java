package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.device.ActResult.Lesson;
import lodestep.magnet.Neutral;
import lodestep.measure.SettledReading;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/** What a settled reading adds to an attempt, given the pulse before it. */
final class Learning {

  /** What reads less as found may have had any past, and tells little. */
  private static final double CHARGED_PART = 0.5;

  private Learning() {}

  static Dial afterReading(Dial dial, SettledReading reading) {
    Progress read = dial.progress().withReading(reading);
    double level = dial.work().pole().sign() * reading.value().tesla();
    if (read.rested()) {
      // What time has taken is no point of the curve.
      return dial.with(read);
    }
    if (read.lastMove().isEmpty()) {
      return dial.with(read.withPoints(List.of(new Progress.Point(0, level))));
    }
    Move.Fire move = read.lastMove().get();
    return switch (move.purpose()) {
      case CHARGE -> afterCharge(dial, read, reading, level);
      case KNOCK_DOWN -> {
        double field = Math.max(move.field().amperesPerMetre(), read.largestReverseAperM());
        yield dial.with(read.withPoint(new Progress.Point(field, level)));
      }
      case PROOF -> dial.with(afterProof(read, reading, level));
      case DEMAGNETISE -> afterDemagnetising(dial, read, move, reading);
    };
  }

  /** The first pulse on a charged magnet tells how hard its kind is in this lot, on this rig. */
  private static Dial afterDemagnetising(
      Dial dial, Progress read, Move.Fire move, SettledReading reading) {
    double way = move.drivesNorth() ? 1 : -1;
    FieldStrength field = new FieldStrength(way * move.field().amperesPerMetre());
    Progress tried = read.withTried(new Neutral.Tried(field, reading.value()));
    Dial known = dial.with(tried);
    FluxDensity found = read.asFound().orElse(reading).value();
    boolean tells =
        tried.tried().size() == 1
            && found.magnitude().tesla() > CHARGED_PART * dial.work().expectedFull().tesla();
    return tells
        ? dial.work()
            .neutral()
            .map(
                neutral -> {
                  String of = Demagnetising.lesson(dial.work());
                  double before = dial.memory().ratio(of);
                  double harder = neutral.harder(found, tried.tried(), before);
                  return known.with(dial.memory().after(new Lesson(of, harder, before)));
                })
            .orElse(known)
        : known;
  }

  private static Dial afterCharge(Dial dial, Progress read, SettledReading reading, double level) {
    Progress fresh = read.chargedTo(level);
    String kind = dial.work().kind();
    if (read.counts().charges() > 1
        && read.firstCharge().isPresent()
        && !dial.memory().chargeProven(kind)) {
      double first = read.firstCharge().get().value().tesla();
      double change = Math.abs(reading.value().tesla() - first);
      if (change <= Task.FullCharge.MOVED_FRACTION * Math.abs(reading.value().tesla())) {
        return dial.with(fresh).with(dial.memory().withChargeProven(kind, Math.abs(level)));
      }
      return dial.with(fresh);
    }
    Optional<SettledReading> first =
        read.firstCharge().isPresent() ? read.firstCharge() : Optional.of(reading);
    return dial.with(fresh.withFirstCharge(first));
  }

  /** A proof that moved the magnet is one more point of its curve, at the peak it had before. */
  private static Progress afterProof(Progress read, SettledReading reading, double level) {
    boolean held = read.beforeProof().map(before -> Planner.held(before, reading)).orElse(true);
    if (held) {
      return read;
    }
    Progress.Point moved = new Progress.Point(read.largestReverseAperM(), level);
    return read.withPoint(moved).withCounts(read.counts().plusMovedProof());
  }
}
