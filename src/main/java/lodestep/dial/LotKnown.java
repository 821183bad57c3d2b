package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.magnet.CurveFamily;

/**
 * The magnets of a kind that were dialed before one, and what they promise of it. Immutable.
 *
 * @param family knock-down curves of such magnets
 * @param fullTesla full charge of a nominal one in its nest
 * @param doubt of the fields of what knocks them down
 * @param before what each of them has shown, the oldest first
 */
record LotKnown(
    CurveFamily family, double fullTesla, FieldSource.Doubt doubt, List<MagnetCurve> before) {

  /** So many magnets of a kind make a lot to which another can be unlike. */
  private static final int LOT_MIN = 3;

  /**
   * What a magnet is judged by.
   *
   * @param kind what the lot promises of it; of one unlike the lot, what is known of any
   * @param belief what is believed of it by that and by what it has shown
   * @param surprises of the lot's magnets and of this one, the newest last
   * @param unlike whether it is unlike the lot
   */
  record Promise(KindBelief kind, MagnetBelief belief, List<Surprise> surprises, boolean unlike) {

    Surprise own() {
      return surprises.get(surprises.size() - 1);
    }

    /** What is odd about the lot as a whole. */
    Optional<String> drift() {
      return Drift.of(surprises);
    }
  }

  /**
   * What is promised of a magnet that has shown this so far.
   *
   * @param charges its points after each charge, the state after the charge first
   */
  Promise promise(List<List<Progress.Point>> charges) {
    KindBelief first = KindBelief.before(family.spread(), doubt.scale());
    KindBelief kind = first;
    List<Surprise> surprises = new ArrayList<>();
    for (MagnetCurve curve : before) {
      MagnetBelief shown = belief(kind, curve.charges());
      surprises.add(shown.surprise());
      kind = shown.taught();
    }
    MagnetBelief own = belief(kind, charges);
    surprises.add(own.surprise());
    return before.size() >= LOT_MIN && own.surprise().isStrange()
        ? new Promise(first, belief(first, charges), List.copyOf(surprises), true)
        : new Promise(kind, own, List.copyOf(surprises), false);
  }

  /** What is believed of a magnet by a promise and by what it has shown. */
  MagnetBelief belief(KindBelief kind, List<List<Progress.Point>> charges) {
    return MagnetBelief.after(family, kind, fullTesla, doubt.told(), charges);
  }
}
