package lodestep.magnet;

import org.hipparchus.exception.MathRuntimeException;

/**
 * Finds the loop that has an alloy's published figures: two nested bracketed searches, the outer
 * over the loop's squareness for (BH)max, the inner over its centre for the coercivities. Where
 * that misses the coercivities, as of hard materials whose (BH)max says little of their knee, HcJ
 * is met instead, and HcB and (BH)max share what is left.
 */
final class LoopFit {

  /** Width over centre of the squarest loop tried; squarer than any alnico. */
  private static final double WIDTH_FRACTION_MIN = 0.02;

  /** Width over centre of the roundest loop tried; rounder it is no permanent magnet. */
  private static final double WIDTH_FRACTION_MAX = 1.0;

  /** The centre lies above HcJ by what the reversible term takes; ten times covers every width. */
  private static final double CENTRE_FACTOR_MAX = 10.0;

  /** The centre is above the lesser coercivity whatever the width. */
  private static final double CENTRE_FACTOR_MIN = 0.5;

  /** Coercivities may be missed by this part; none of alnico is. */
  private static final double MISS_MAX = 0.03;

  private final Alloy alloy;

  LoopFit(Alloy alloy) {
    this.alloy = alloy;
  }

  Hysteresis solve() {
    try {
      double widthFraction =
          LoopFigures.root(this::energyProductExcess, WIDTH_FRACTION_MIN, WIDTH_FRACTION_MAX);
      Hysteresis loop = loop(widthFraction);
      return missed(loop) <= MISS_MAX ? loop : shared();
    } catch (MathRuntimeException noRoot) {
      throw new IllegalArgumentException(
          "the figures of alloy '"
              + alloy.name()
              + "' do not belong to one loop: check its energy product and recoil permeability",
          noRoot);
    }
  }

  private double missed(Hysteresis loop) {
    return Math.abs(LoopFigures.coercivityJ(loop) / alloy.coercivityJ().amperesPerMetre() - 1);
  }

  /** HcJ exactly; HcB and (BH)max missed by the same part in opposite directions. */
  private Hysteresis shared() {
    return ofCoercivity(
        LoopFigures.root(
            widthFraction -> {
              LoopFigures figures = LoopFigures.of(ofCoercivity(widthFraction));
              return figures.coercivityBAmperesPerMetre() / alloy.coercivityB().amperesPerMetre()
                  + figures.energyProductJoulesPerCubicMetre()
                      / alloy.energyProductJoulesPerCubicMetre()
                  - 2;
            },
            WIDTH_FRACTION_MIN,
            WIDTH_FRACTION_MAX));
  }

  private Hysteresis ofCoercivity(double widthFraction) {
    double coercivity = alloy.coercivityJ().amperesPerMetre();
    double centre =
        LoopFigures.root(
            candidate -> LoopFigures.coercivityJ(loop(widthFraction, candidate)) - coercivity,
            CENTRE_FACTOR_MIN * coercivity,
            CENTRE_FACTOR_MAX * coercivity);
    return loop(widthFraction, centre);
  }

  private double energyProductExcess(double widthFraction) {
    LoopFigures figures = LoopFigures.of(loop(widthFraction));
    return figures.energyProductJoulesPerCubicMetre() - alloy.energyProductJoulesPerCubicMetre();
  }

  private Hysteresis loop(double widthFraction) {
    double centre =
        LoopFigures.root(
            candidate -> coercivityExcess(loop(widthFraction, candidate)),
            CENTRE_FACTOR_MIN * alloy.coercivityB().amperesPerMetre(),
            CENTRE_FACTOR_MAX * alloy.coercivityJ().amperesPerMetre());
    return loop(widthFraction, centre);
  }

  private double coercivityExcess(Hysteresis loop) {
    return LoopFigures.coercivityB(loop) / alloy.coercivityB().amperesPerMetre()
        + LoopFigures.coercivityJ(loop) / alloy.coercivityJ().amperesPerMetre()
        - 2;
  }

  private Hysteresis loop(double widthFraction, double centre) {
    double saturation = alloy.remanence().tesla() / Math.tanh(1 / widthFraction);
    return new Hysteresis(
        saturation, centre, widthFraction * centre, alloy.recoilPermeability() - 1);
  }
}
