package lodestep.dial;

import java.util.List;
import lodestep.magnet.KnockDownCurve;

/**
 * The peak field of the next reverse pulse, chosen to end above the target.
 *
 * @param curve of a nominal magnet of this kind
 * @param targetTesla positive
 * @param halfTesla half width of the accepted band, &gt; 0
 * @param taught whether magnets of this kind have taught how the field acts on them
 * @param recharges how often it already fell below; each makes the approach more careful
 */
record KnockDownAim(
    KnockDownCurve curve, double targetTesla, double halfTesla, int recharges, boolean taught) {

  /** Aim this far above the target, as a part of the accepted half width. */
  private static final double ABOVE = 0.3;

  /**
   * Part of the way taken on the nominal curve alone: coercivity spreads by some per cent from
   * magnet to magnet, and most of the curve lies within a third of its field.
   */
  private static final double FIRST_PART = 0.65;

  /** The same once others of its kind were dialed: they are more alike than their alloy is. */
  private static final double TAUGHT_PART = 0.85;

  /** Part of the rest taken once one point of this magnet's curve is known. */
  private static final double SECOND_PART = 0.9;

  /** Each fall below shortens every step by this factor. */
  private static final double RECHARGE_CARE = 0.93;

  /** A magnet's own scale of the curve cannot reasonably lie outside this. */
  private static final double SCALE_MAX = 1.6;

  /** A pulse that grows by less than this does nothing that the meter could tell. */
  private static final double LEAST_GROWTH = 1.0005;

  /** Growth of the pulse while nothing has moved yet. */
  private static final double SEARCH_GROWTH = 1.15;

  /** Below this part of the charge lost, a point says nothing of the magnet's scale. */
  private static final double TELLING_LOSS = 0.01;

  /** Part of the remaining way that a safe step takes at the steepest place of the curve. */
  private static final double SAFE_PART = 0.8;

  /** A magnet whose scale is not known needs by this factor less field than a nominal one. */
  private static final double SOFT_SCALE = 1.06;

  /** A step is taken to fall by this factor more than reckoned. */
  private static final double STEEPER = 1.15;

  /**
   * By the secant, in the nominal curve's own field as abscissa: there the magnet's curve is nearly
   * a straight line through the origin, whatever its shape.
   *
   * @param points the state after the charge first, then one for each reverse pulse
   */
  double secant(List<Progress.Point> points) {
    Progress.Point charged = points.get(0);
    Progress.Point last = points.get(points.size() - 1);
    double lost = 1 - last.levelTesla() / charged.levelTesla();
    int known = points.size() - 1;
    boolean telling = lost > TELLING_LOSS;
    double part = !telling ? (taught ? TAUGHT_PART : FIRST_PART) : known < 2 ? SECOND_PART : 1.0;
    double aim = aimLevel(last.levelTesla(), part * Math.pow(RECHARGE_CARE, recharges));
    double nominalAim = nominal(aim, charged);
    if (!telling) {
      return Math.max(nominalAim, last.fieldAperM() * SEARCH_GROWTH);
    }
    double nominalLast = nominal(last.levelTesla(), charged);
    double step = scale(points) * (nominalAim - nominalLast);
    return Math.max(last.fieldAperM() + step, last.fieldAperM() * LEAST_GROWTH);
  }

  /** Equal steps, each too small to cross the accepted band at the steepest place of the curve. */
  double equalStep(List<Progress.Point> points) {
    double steepest = curve.steepestPerAperM() * points.get(0).levelTesla();
    return points.get(points.size() - 1).fieldAperM() + halfTesla / steepest;
  }

  /**
   * The longest step that cannot fall below even at the steepest place of the curve: for a magnet
   * whose charge and past are not known.
   */
  double safeStep(List<Progress.Point> points, double expectedFullTesla) {
    Progress.Point last = points.get(points.size() - 1);
    double full = Math.max(expectedFullTesla, points.get(0).levelTesla());
    double way = last.levelTesla() - (targetTesla + ABOVE * halfTesla);
    return last.fieldAperM() + SAFE_PART * way / (curve.steepestPerAperM() * full);
  }

  /**
   * The lowest level at which a pulse of this peak may leave the magnet, in tesla. Where the
   * magnet's own scale is not known yet it is taken as a soft one; where it is, the fall is taken
   * as steeper than reckoned.
   */
  double lowestAfter(double fieldAperM, List<Progress.Point> points, double expectedFullTesla) {
    Progress.Point first = points.get(0);
    Progress.Point last = points.get(points.size() - 1);
    boolean telling =
        points.size() > 1 && 1 - last.levelTesla() / first.levelTesla() > TELLING_LOSS;
    double nominalLast =
        telling ? nominal(last.levelTesla(), first) : last.fieldAperM() * SOFT_SCALE;
    double scale = telling ? scale(points) : 1 / SOFT_SCALE;
    double nominalNext = nominalLast + (fieldAperM - last.fieldAperM()) / scale;
    double fall = curve.fractionAt(nominalLast) - curve.fractionAt(nominalNext);
    double full = Math.max(first.levelTesla(), expectedFullTesla);
    return last.levelTesla() - STEEPER * fall * full;
  }

  private double aimLevel(double levelTesla, double part) {
    double end = targetTesla + ABOVE * halfTesla;
    return Math.min(levelTesla, levelTesla - part * (levelTesla - end));
  }

  /** How much more field this magnet needs than a nominal one, from its newest points. */
  private double scale(List<Progress.Point> points) {
    Progress.Point charged = points.get(0);
    Progress.Point last = points.get(points.size() - 1);
    Progress.Point before = points.get(points.size() - 2);
    double nominalLast = nominal(last.levelTesla(), charged);
    double chord = last.fieldAperM() / nominalLast;
    double run = nominalLast - nominal(before.levelTesla(), charged);
    double secant = run > 0 ? (last.fieldAperM() - before.fieldAperM()) / run : chord;
    double bounded = Math.max(chord / SCALE_MAX, Math.min(chord * SCALE_MAX, secant));
    return Math.max(1 / SCALE_MAX, Math.min(SCALE_MAX, bounded));
  }

  private double nominal(double levelTesla, Progress.Point charged) {
    return curve.fieldFor(levelTesla / charged.levelTesla());
  }
}
