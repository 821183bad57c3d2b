package lodestep.magnet;

import org.hipparchus.exception.MathRuntimeException;

/**
 * Finds the loop that has an alloy's published figures: two nested bracketed searches, the outer
 * over the loop's squareness for (BH)max, the inner over its centre for the coercivities.
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

  private final Alloy alloy;

  LoopFit(Alloy alloy) {
    this.alloy = alloy;
  }

  Hysteresis solve() {
    try {
      double widthFraction =
          LoopFigures.root(this::energyProductExcess, WIDTH_FRACTION_MIN, WIDTH_FRACTION_MAX);
      return loop(widthFraction);
    } catch (MathRuntimeException noRoot) {
      throw new IllegalArgumentException(
          "the figures of alloy '"
              + alloy.name()
              + "' do not belong to one loop: check its energy product and recoil permeability",
          noRoot);
    }
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
