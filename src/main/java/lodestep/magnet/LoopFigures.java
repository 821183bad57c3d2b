package lodestep.magnet;

import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BrentSolver;

/**
 * The figures a loop has, as makers publish them. Any thread, immutable.
 *
 * @param remanenceTesla Br
 * @param coercivityBAmperesPerMetre HcB, without sign
 * @param coercivityJAmperesPerMetre HcJ, without sign
 * @param energyProductJoulesPerCubicMetre (BH)max
 */
public record LoopFigures(
    double remanenceTesla,
    double coercivityBAmperesPerMetre,
    double coercivityJAmperesPerMetre,
    double energyProductJoulesPerCubicMetre) {

  /** Far finer than any published figure, and reached in a few steps. */
  private static final double RELATIVE_ACCURACY = 1e-13;

  private static final int EVALUATIONS_MAX = 500;

  /** Reads the figures off the descending branch, by bracketed root finding. */
  public static LoopFigures of(Hysteresis loop) {
    double coercivityB = coercivityB(loop);
    double best = root(h -> induction(loop, h) + h * inductionSlope(loop, h), 0, coercivityB);
    return new LoopFigures(
        loop.descendingTesla(0),
        coercivityB,
        coercivityJ(loop),
        Math.abs(best * induction(loop, best)));
  }

  static double coercivityB(Hysteresis loop) {
    return root(h -> induction(loop, h), 0, loop.centreAmperesPerMetre());
  }

  static double coercivityJ(Hysteresis loop) {
    return root(h -> loop.descendingTesla(-h), 0, loop.centreAmperesPerMetre());
  }

  static double root(UnivariateFunction function, double low, double high) {
    BrentSolver solver = new BrentSolver(RELATIVE_ACCURACY, RELATIVE_ACCURACY * high);
    return solver.solve(EVALUATIONS_MAX, function, low, high);
  }

  /** Flux density at the net field −h. */
  private static double induction(Hysteresis loop, double h) {
    return loop.descendingTesla(-h) - Mu0.TESLA_PER_AMPERE_PER_METRE * h;
  }

  /** Derivative of {@link #induction} by h. */
  private static double inductionSlope(Hysteresis loop, double h) {
    double t = Math.tanh((loop.centreAmperesPerMetre() - h) / loop.widthAmperesPerMetre());
    return -loop.saturationTesla() * (1 - t * t) / loop.widthAmperesPerMetre()
        - Mu0.TESLA_PER_AMPERE_PER_METRE * (1 + loop.susceptibility());
  }
}
