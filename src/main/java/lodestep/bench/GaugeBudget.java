package lodestep.bench;

import java.util.List;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.Seating;
import lodestep.measure.SettlingRule;
import lodestep.measure.StandardUncertainty;
import lodestep.measure.UncertaintyBudget;
import lodestep.quantity.FluxDensity;

/** The uncertainty budget of one reading of one magnet in a nest. Pure. */
public final class GaugeBudget {

  /** Noise of a settled mean: 20 µT a sample, half a second; a starting value until measured. */
  private static final double NOISE_TESLA = 3e-6;

  private GaugeBudget() {}

  /**
   * The budget, in gauss.
   *
   * @param level without sign
   */
  public static UncertaintyBudget of(
      GaugeCalibration calibration, FluxDensity level, Seating seating) {
    double gauss = level.gauss();
    double step = 1 / calibration.countsPerTesla() / Math.sqrt(12);
    return new UncertaintyBudget(
        "the flux density at a pole face",
        gauss,
        "G",
        List.of(
            new UncertaintyBudget.Input(
                "gain",
                1,
                "",
                StandardUncertainty.known(calibration.relativeStandardUncertainty()),
                gauss,
                "calibration"),
            new UncertaintyBudget.Input(
                "seating", 1, "", seating.relative(), gauss, seating.known()),
            new UncertaintyBudget.Input(
                "zero and wander",
                0,
                "G",
                StandardUncertainty.known(gaussOf(SettlingRule.READING_WANDER_TESLA)),
                1,
                "stated beforehand"),
            new UncertaintyBudget.Input(
                "noise of the mean",
                0,
                "G",
                StandardUncertainty.known(gaussOf(NOISE_TESLA)),
                1,
                "starting value"),
            new UncertaintyBudget.Input(
                "converter's step",
                0,
                "G",
                StandardUncertainty.known(gaussOf(step)),
                1,
                "rectangular")));
  }

  private static double gaussOf(double tesla) {
    return new FluxDensity(tesla).gauss();
  }
}
