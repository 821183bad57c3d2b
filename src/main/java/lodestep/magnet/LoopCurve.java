package lodestep.magnet;

import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.DecompositionSolver;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * A demagnetising curve as it was measured on a lot: flux density against the field inside, from
 * the remanence down. Any thread, immutable.
 *
 * <p>The loop that follows it best, J = Js tanh((H + Hc)/w) + µ0 χ H by least squares over its
 * points (Levenberg's damped steps, in the logarithms of the four figures, so that none changes its
 * sign). A loop of this form follows published curves of cast alnico 5 within 2 per cent of Br; one
 * that misses a point by more than {@value #MISS_MAX} of Br is refused as no such curve.
 *
 * @param points in any order; H &le; 0, B &ge; 0
 */
public record LoopCurve(List<Point> points) {

  /** Four figures are found: with fewer points the curve says nothing of how well they fit. */
  public static final int POINTS_MIN = 6;

  /** Part of Br by which a point may be missed. */
  public static final double MISS_MAX = 0.05;

  /** The curve has to come down to this part of its remanence, or it says nothing of its knee. */
  private static final double LOWEST_PART = 0.5;

  /** It begins at the remanence: at a field this part of the largest, or less. */
  private static final double NEAREST_PART = 0.05;

  private static final int STEPS_MAX = 500;
  private static final double DONE = 1e-12;

  /** Of a usual alnico: near enough to begin with. */
  private static final double WIDTH_BEGUN = 0.15;

  private static final double SUSCEPTIBILITY_BEGUN = 2;

  /**
   * A point of it.
   *
   * @param net field inside the magnet
   * @param induction flux density there
   */
  public record Point(FieldStrength net, FluxDensity induction) {
    double polarisationTesla() {
      return induction.tesla() - Mu0.TESLA_PER_AMPERE_PER_METRE * net.amperesPerMetre();
    }
  }

  /**
   * What was found.
   *
   * @param worstMiss of all points, as a part of the curve's remanence
   */
  public record Identified(Hysteresis loop, double worstMiss) {

    /** The figures that makers publish, read off the loop. */
    public Map<Figure, Double> figures() {
      LoopFigures figures = LoopFigures.of(loop);
      Map<Figure, Double> found = new EnumMap<>(Figure.class);
      found.put(Figure.REMANENCE, figures.remanenceTesla());
      found.put(Figure.COERCIVITY_B, figures.coercivityBAmperesPerMetre());
      found.put(Figure.COERCIVITY_J, figures.coercivityJAmperesPerMetre());
      found.put(Figure.ENERGY_PRODUCT, figures.energyProductJoulesPerCubicMetre());
      found.put(Figure.RECOIL, 1 + loop.susceptibility());
      return found;
    }
  }

  /**
   * @throws IllegalArgumentException with one sentence, if this is no demagnetising curve
   */
  public LoopCurve {
    points =
        points.stream()
            .sorted(Comparator.comparingDouble((Point p) -> p.net().amperesPerMetre()).reversed())
            .toList();
    if (points.size() < POINTS_MIN) {
      throw new IllegalArgumentException(
          "a curve of " + points.size() + " points tells too little; give " + POINTS_MIN);
    }
    for (int i = 0; i < points.size(); i++) {
      requirePoint(points.get(i));
      if (i > 0 && !falls(points.get(i - 1), points.get(i))) {
        throw new IllegalArgumentException(
            "its flux density does not fall from "
                + words(points.get(i - 1))
                + " to "
                + words(points.get(i)));
      }
    }
    requireSpan(points);
  }

  private static void requirePoint(Point point) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(point.net().amperesPerMetre() <= 0 && point.induction().tesla() >= 0)) {
      throw new IllegalArgumentException(
          words(point) + " does not lie on a demagnetising curve, where H <= 0 and B >= 0");
    }
  }

  private static boolean falls(Point before, Point after) {
    return after.net().amperesPerMetre() < before.net().amperesPerMetre()
        && after.induction().tesla() < before.induction().tesla();
  }

  private static void requireSpan(List<Point> points) {
    Point first = points.get(0);
    Point last = points.get(points.size() - 1);
    boolean begins = first.net().amperesPerMetre() >= NEAREST_PART * last.net().amperesPerMetre();
    boolean comesDown = last.induction().tesla() <= LOWEST_PART * first.induction().tesla();
    if (!begins || !comesDown) {
      throw new IllegalArgumentException(
          "it runs from "
              + words(first)
              + " to "
              + words(last)
              + "; measure it from the remanence to half of it or less");
    }
  }

  private static String words(Point point) {
    return String.format(
        Locale.ROOT,
        "%.1f kA/m, %.3f T",
        point.net().amperesPerMetre() * 1e-3,
        point.induction().tesla());
  }

  /**
   * The loop that follows it best.
   *
   * @throws IllegalArgumentException with one sentence, if none of this form follows it
   */
  public Identified identified() {
    double remanence = points.get(0).polarisationTesla();
    double reach = -points.get(points.size() - 1).net().amperesPerMetre();
    Hysteresis loop = new Hysteresis(remanence, reach, WIDTH_BEGUN * reach, SUSCEPTIBILITY_BEGUN);
    double damping = 1;
    for (int step = 0; step < STEPS_MAX && damping < 1 / DONE; step++) {
      Hysteresis next = stepped(loop, damping);
      double gain = squares(loop) - squares(next);
      if (gain > 0) {
        boolean done = gain < DONE * squares(loop);
        loop = next;
        damping *= done ? 1 / DONE : 0.3;
      } else {
        damping *= 4;
      }
    }
    double miss = worstMiss(loop);
    if (!(miss <= MISS_MAX)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "no loop follows its curve: the best misses a point by %.1f %% of the remanence; look"
                  + " its points over",
              100 * miss));
    }
    return new Identified(loop, miss);
  }

  private double squares(Hysteresis loop) {
    return points.stream().mapToDouble(point -> Math.pow(miss(loop, point), 2)).sum();
  }

  private double worstMiss(Hysteresis loop) {
    return points.stream().mapToDouble(point -> Math.abs(miss(loop, point))).max().orElse(0)
        / points.get(0).induction().tesla();
  }

  private static double miss(Hysteresis loop, Point point) {
    return point.polarisationTesla() - loop.descendingTesla(point.net().amperesPerMetre());
  }

  /** One damped step in the logarithms of Js, Hc, w and χ. */
  private Hysteresis stepped(Hysteresis loop, double damping) {
    Array2DRowRealMatrix slopes = new Array2DRowRealMatrix(points.size(), 4);
    RealVector misses = new ArrayRealVector(points.size());
    for (int i = 0; i < points.size(); i++) {
      slopes.setRow(i, slopes(loop, points.get(i).net().amperesPerMetre()));
      misses.setEntry(i, miss(loop, points.get(i)));
    }
    RealMatrix normal = slopes.transposeMultiply(slopes);
    for (int k = 0; k < 4; k++) {
      normal.addToEntry(k, k, damping * Math.max(normal.getEntry(k, k), DONE));
    }
    DecompositionSolver solver = new LUDecomposition(normal).getSolver();
    if (!solver.isNonSingular()) {
      // A loop that no point says anything of: it stays, and is judged by what it misses.
      return loop;
    }
    RealVector by = solver.solve(slopes.transpose().operate(misses));
    return new Hysteresis(
        loop.saturationTesla() * grown(by.getEntry(0)),
        loop.centreAmperesPerMetre() * grown(by.getEntry(1)),
        loop.widthAmperesPerMetre() * grown(by.getEntry(2)),
        loop.susceptibility() * grown(by.getEntry(3)));
  }

  /** No step is taken for more than threefold: further off the slopes say nothing. */
  private static double grown(double logarithm) {
    return Math.exp(Math.max(-1, Math.min(1, logarithm)));
  }

  private static double[] slopes(Hysteresis loop, double net) {
    double width = loop.widthAmperesPerMetre();
    double argument = (net + loop.centreAmperesPerMetre()) / width;
    double tanh = Math.tanh(argument);
    double steep = loop.saturationTesla() * (1 - tanh * tanh);
    return new double[] {
      loop.saturationTesla() * tanh,
      steep * loop.centreAmperesPerMetre() / width,
      -steep * argument,
      loop.reversibleTesla(net)
    };
  }
}
