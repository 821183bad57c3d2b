package lodestep.dial;

import java.util.List;
import lodestep.magnet.KnockDownCurve;

/**
 * The peak field of the next reverse pulse where nothing is expected of the magnet but that it is
 * no steeper than a nominal one. Chosen to end above the target.
 *
 * @param curve of a nominal magnet of this kind
 * @param targetTesla positive, or zero
 * @param halfTesla half width of the accepted band, &gt; 0
 */
record KnockDownAim(KnockDownCurve curve, double targetTesla, double halfTesla) {

  /** Aim this far above the target, as a part of the accepted half width. */
  private static final double ABOVE = 0.3;

  /** Part of the remaining way that a safe step takes at the steepest place of the curve. */
  private static final double SAFE_PART = 0.8;

  /** A step is taken to fall by this factor more than reckoned. */
  private static final double STEEPER = 1.15;

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
    double way = last.levelTesla() - (targetTesla + ABOVE * halfTesla);
    return last.fieldAperM() + SAFE_PART * way / steepest(points, expectedFullTesla);
  }

  /**
   * The lowest level at which a pulse of this peak may leave the magnet, in tesla, as if the curve
   * fell everywhere as it does at its steepest place.
   */
  double lowestAfter(double fieldAperM, List<Progress.Point> points, double expectedFullTesla) {
    Progress.Point last = points.get(points.size() - 1);
    double step = fieldAperM - last.fieldAperM();
    return last.levelTesla() - STEEPER * step * steepest(points, expectedFullTesla);
  }

  private double steepest(List<Progress.Point> points, double expectedFullTesla) {
    double full = Math.max(expectedFullTesla, points.get(0).levelTesla());
    return curve.steepestPerAperM() * full;
  }
}
