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

  /**
   * Of a magnet that this attempt has charged.
   *
   * @param reading the newest
   */
  static Expectation of(Work work, RigNow now, Progress progress, SettledReading reading) {
    FieldSource.Doubt doubt = work.knockDown().doubt(work.coercivity(), now);
    List<MagnetCurve> before = now.memory().curves(work.kind());
    LotKnown lot = new LotKnown(work.family(), work.expectedFull().tesla(), doubt, before);
    LotKnown.Promise promise = lot.promise(progress.rounds());
    Optional<String> remark =
        promise.unlike() ? Optional.of(words(promise.own(), before.size())) : promise.drift();
    double read = work.pole().sign() * reading.value().tesla();
    return new Expectation(
        promise.belief(),
        level(lot, promise.kind(), progress, read, reading.standardUncertainty().tesla()),
        remark);
  }

  /** What the curve said before the last pulse, with what was read after it, proof and all. */
  private static MagnetBelief.Level level(
      LotKnown lot, KindBelief kind, Progress progress, double read, double u) {
    List<Progress.Point> points = progress.points();
    if (points.size() < 2 || !(u > 0)) {
      return new MagnetBelief.Level(read, u);
    }
    List<List<Progress.Point>> before = new ArrayList<>(progress.earlier());
    before.add(points.subList(0, points.size() - 1));
    Progress.Point last = points.get(points.size() - 1);
    MagnetBelief.Level level =
        lot.belief(kind, before).levelAfter(last.fieldAperM(), lot.doubt().told()).with(read, u);
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
