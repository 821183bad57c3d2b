package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.measure.SettledReading;

/**
 * What is expected of the magnet of an attempt: by its alloy and shape, by the magnets of its kind
 * that were dialed before it, and by its own readings. Any thread, immutable.
 *
 * @param belief of its curve, after every reading
 * @param level where it stands, by its last readings and by its curve; positive on the pole asked
 * @param remark how it is unlike the magnets of its kind before it, or how these have wandered
 *     together; empty where there is nothing to remark
 */
record Expectation(MagnetBelief belief, MagnetBelief.Level level, Optional<String> remark) {

  /** So many magnets of a kind make a lot to which another can be unlike. */
  private static final int LOT_MIN = 3;

  /**
   * Of a magnet that this attempt has charged.
   *
   * @param reading the newest
   */
  static Expectation of(Work work, RigNow now, Progress progress, SettledReading reading) {
    List<MagnetCurve> before = now.memory().curves(work.kind());
    KindBelief first = first(work, now);
    KindBelief kind = first;
    List<Surprise> surprises = new ArrayList<>();
    for (MagnetCurve curve : before) {
      MagnetBelief shown = belief(work, now, kind, curve.charges());
      surprises.add(shown.surprise());
      kind = shown.taught();
    }
    List<List<Progress.Point>> rounds = progress.rounds();
    Surprise surprise = belief(work, now, kind, rounds).surprise();
    surprises.add(surprise);
    boolean strange = before.size() >= LOT_MIN && surprise.isStrange();
    KindBelief fitting = strange ? first : kind;
    return new Expectation(
        belief(work, now, fitting, rounds),
        level(work, now, fitting, progress, reading),
        strange ? Optional.of(words(surprise, before.size())) : Drift.of(surprises));
  }

  private static KindBelief first(Work work, RigNow now) {
    double scale = work.knockDown().doubt(work.coercivity(), now).scale();
    return KindBelief.before(work.family().spread(), scale);
  }

  private static MagnetBelief belief(
      Work work, RigNow now, KindBelief kind, List<List<Progress.Point>> charges) {
    double told = work.knockDown().doubt(work.coercivity(), now).told();
    return MagnetBelief.after(work.family(), kind, work.expectedFull().tesla(), told, charges);
  }

  /** What the curve said before the last pulse, with what was read after it, proof and all. */
  private static MagnetBelief.Level level(
      Work work, RigNow now, KindBelief kind, Progress progress, SettledReading reading) {
    double u = reading.standardUncertainty().tesla();
    double read = work.pole().sign() * reading.value().tesla();
    List<Progress.Point> points = progress.points();
    if (points.size() < 2 || !(u > 0)) {
      return new MagnetBelief.Level(read, u);
    }
    List<List<Progress.Point>> before = new ArrayList<>(progress.earlier());
    before.add(points.subList(0, points.size() - 1));
    Progress.Point last = points.get(points.size() - 1);
    double told = work.knockDown().doubt(work.coercivity(), now).told();
    MagnetBelief.Level level =
        belief(work, now, kind, before).levelAfter(last.fieldAperM(), told).with(read, u);
    return read == last.levelTesla() ? level : level.with(last.levelTesla(), u);
  }

  private static String words(Surprise surprise, int before) {
    double off = Math.expm1(surprise.fullOff());
    String how =
        surprise.isStrangeFull()
            ? String.format(
                Locale.ROOT,
                "its full charge reads %.0f %% %s than theirs",
                Math.abs(off) * 100,
                off < 0 ? "less" : "more")
            : String.format(
                "it needs a %s field than theirs", surprise.field() < 0 ? "weaker" : "stronger");
    return String.format(
        Locale.ROOT,
        "unlike the %d of its kind before it: %s; see that it is the alloy of the plan, not"
            + " cracked, and sits as they do",
        before,
        how);
  }
}
