package lodestep.magnet;

import java.util.function.DoubleFunction;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;

/**
 * A coil of air: flux density around it, and its inductance. Any thread, immutable.
 *
 * <p>A layer of turns is a current sheet, whose field is that of a magnetised body of its shape; a
 * thick winding is the sum of its layers, taken by a Gauss rule. Assumes turns that lie close and
 * even, and no iron near.
 */
public sealed interface Winding {

  /** Points of the Gauss rule through the winding's depth. */
  int LAYERS = 12;

  /** Flux density for one ampere, at any place outside the copper. */
  FluxSource perAmpere();

  /** Inductance in henries, of the winding by itself in air. Some milliseconds if it has depth. */
  double inductanceHenries();

  /** Along the axis, in metres. */
  double lengthMetres();

  /** Of the copper, across, in metres; 0 for a single thin layer. */
  double depthMetres();

  /** Width of the bore along x, in metres. */
  double boreXMetres();

  /** Width of the bore along y, in metres. */
  double boreYMetres();

  /** How many turns; need not be whole. */
  double turns();

  /** Length of a turn in metres, mean over the depth. */
  double turnMetres();

  /** Area a turn encloses in square metres, mean over the depth. */
  double turnSquareMetres();

  /** The same room filled with another number of turns. */
  Winding withTurns(double other);

  /**
   * A round winding; its axis is z and its centre the origin.
   *
   * @param innerRadiusMetres of the bore, &gt; 0
   * @param outerRadiusMetres &gt; the inner one, or equal to it for a single thin layer
   * @param lengthMetres &gt; 0
   * @param turns &gt; 0
   */
  record Round(
      double innerRadiusMetres, double outerRadiusMetres, double lengthMetres, double turns)
      implements Winding {

    /**
     * @throws IllegalArgumentException naming the figure that is out of range
     */
    public Round {
      Sizes.requireAboveZero("a winding's inner radius", innerRadiusMetres);
      Sizes.requireAboveZero("a winding's length", lengthMetres);
      requireDepth(outerRadiusMetres - innerRadiusMetres);
      requireTurns(turns);
    }

    @Override
    public double boreXMetres() {
      return 2 * innerRadiusMetres;
    }

    @Override
    public double boreYMetres() {
      return 2 * innerRadiusMetres;
    }

    @Override
    public FluxSource perAmpere() {
      return layered(
          depthMetres(),
          turns / lengthMetres,
          out -> new Cylinder(innerRadiusMetres + out, 0.5 * lengthMetres));
    }

    /**
     * Flux density on the axis for one ampere in tesla.
     *
     * <p>Source: D. B. Montgomery, Solenoid Magnet Design (1969), chapter 1, in closed form.
     *
     * @param zMetres from the centre
     */
    public double onAxisTeslaPerAmpere(double zMetres) {
      double half = 0.5 * lengthMetres;
      double depth = depthMetres();
      if (depth == 0) {
        return perAmpere().at(Place.onAxis(zMetres)).zTesla();
      }
      double density = turns / (lengthMetres * depth);
      return 0.5
          * Mu0.TESLA_PER_AMPERE_PER_METRE
          * density
          * (axial(zMetres + half) - axial(zMetres - half));
    }

    private double axial(double z) {
      return z
          * Math.log(
              (outerRadiusMetres + Math.hypot(outerRadiusMetres, z))
                  / (innerRadiusMetres + Math.hypot(innerRadiusMetres, z)));
    }

    /**
     * {@inheritDoc} A single layer: µ0 N² π r² K / l, K the Nagaoka coefficient, which is one less
     * the demagnetising factor of the cylinder it is wound on.
     */
    @Override
    public double inductanceHenries() {
      double depth = depthMetres();
      if (depth == 0) {
        double nagaoka = 1 - DemagnetisingFactor.ofCylinder(2 * innerRadiusMetres, lengthMetres);
        return sheet(Math.PI * innerRadiusMetres * innerRadiusMetres, nagaoka, lengthMetres, turns);
      }
      LayeredInductance.Turns mutual =
          (outer, inner, apart) ->
              LayeredInductance.circles(
                  innerRadiusMetres + outer, innerRadiusMetres + inner, apart);
      return turns * turns * LayeredInductance.perSquaredTurns(mutual, depth, lengthMetres);
    }

    @Override
    public double turnMetres() {
      return Math.PI * (innerRadiusMetres + outerRadiusMetres);
    }

    @Override
    public double depthMetres() {
      return outerRadiusMetres - innerRadiusMetres;
    }

    @Override
    public double turnSquareMetres() {
      double squares =
          innerRadiusMetres * innerRadiusMetres
              + innerRadiusMetres * outerRadiusMetres
              + outerRadiusMetres * outerRadiusMetres;
      return Math.PI * squares / 3;
    }

    @Override
    public Round withTurns(double other) {
      return new Round(innerRadiusMetres, outerRadiusMetres, lengthMetres, other);
    }
  }

  /**
   * A winding around a rectangular bore; its axis is z and its centre the origin. Corners are taken
   * as sharp.
   *
   * @param boreXMetres of the bore, &gt; 0
   * @param boreYMetres of the bore, &gt; 0
   * @param depthMetres of copper on each side, &ge; 0; 0 for a single thin layer
   * @param lengthMetres &gt; 0
   * @param turns &gt; 0
   */
  record Rectangular(
      double boreXMetres, double boreYMetres, double depthMetres, double lengthMetres, double turns)
      implements Winding {

    /**
     * @throws IllegalArgumentException naming the figure that is out of range
     */
    public Rectangular {
      Sizes.requireAboveZero("a bore's size along x", boreXMetres);
      Sizes.requireAboveZero("a bore's size along y", boreYMetres);
      Sizes.requireAboveZero("a winding's length", lengthMetres);
      requireDepth(depthMetres);
      requireTurns(turns);
    }

    @Override
    public FluxSource perAmpere() {
      return layered(
          depthMetres,
          turns / lengthMetres,
          out -> new Block(0.5 * boreXMetres + out, 0.5 * boreYMetres + out, 0.5 * lengthMetres));
    }

    /**
     * {@inheritDoc} A single layer: µ0 N² A (1 − D) / l, D the demagnetising factor of the block it
     * is wound on.
     */
    @Override
    public double inductanceHenries() {
      if (depthMetres == 0) {
        double part = 1 - DemagnetisingFactor.ofPrism(boreXMetres, boreYMetres, lengthMetres);
        return sheet(boreXMetres * boreYMetres, part, lengthMetres, turns);
      }
      LayeredInductance.Turns mutual =
          (outer, inner, apart) ->
              LayeredInductance.rectangles(
                  boreXMetres + 2 * outer,
                  boreYMetres + 2 * outer,
                  boreXMetres + 2 * inner,
                  boreYMetres + 2 * inner,
                  apart);
      return turns * turns * LayeredInductance.perSquaredTurns(mutual, depthMetres, lengthMetres);
    }

    @Override
    public double turnMetres() {
      return 2 * (boreXMetres + boreYMetres) + 4 * depthMetres;
    }

    @Override
    public double turnSquareMetres() {
      return boreXMetres * boreYMetres
          + (boreXMetres + boreYMetres) * depthMetres
          + 4 * depthMetres * depthMetres / 3;
    }

    @Override
    public Rectangular withTurns(double other) {
      return new Rectangular(boreXMetres, boreYMetres, depthMetres, lengthMetres, other);
    }
  }

  /** Inductance of a current sheet around this area. */
  private static double sheet(double area, double part, double length, double turns) {
    return Mu0.TESLA_PER_AMPERE_PER_METRE * turns * turns * area * part / length;
  }

  private static FluxSource layered(
      double depth, double turnsPerMetre, DoubleFunction<FluxSource> sheetAt) {
    double strength = Mu0.TESLA_PER_AMPERE_PER_METRE * turnsPerMetre;
    if (depth == 0) {
      return sheetAt.apply(0).times(strength);
    }
    GaussIntegrator rule = new GaussIntegratorFactory().legendre(LAYERS, 0, depth);
    FluxSource whole = place -> Flux.NONE;
    for (int layer = 0; layer < LAYERS; layer++) {
      double share = strength * rule.getWeight(layer) / depth;
      whole = whole.plus(sheetAt.apply(rule.getPoint(layer)).times(share));
    }
    return whole;
  }

  private static void requireDepth(double metres) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(metres >= 0 && metres < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("a winding's depth has to be 0 or more: " + metres + " m");
    }
  }

  private static void requireTurns(double turns) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(turns > 0 && turns < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("a winding's turns have to be above zero: " + turns);
    }
  }
}
