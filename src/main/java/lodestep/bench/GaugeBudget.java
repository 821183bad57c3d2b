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
   * @param gainBy by what the gain is known, in words
   * @param level without sign
   */
  public static UncertaintyBudget of(
      GaugeCalibration calibration, String gainBy, FluxDensity level, Seating seating) {
    double gauss = level.gauss();
    double step = 1 / calibration.countsPerTesla() / Math.sqrt(12);
    StandardUncertainty gain = StandardUncertainty.known(calibration.relativeStandardUncertainty());
    StandardUncertainty warmth = StandardUncertainty.known(calibration.relativeByTemperature());
    String warmthBy =
        calibration.gainPerKelvin() == 0
            ? "not stated in rig.toml, not counted"
            : "half of what is stated, ± 10 K";
    return new UncertaintyBudget(
        "the flux density at a pole face",
        gauss,
        "G",
        List.of(
            part("gain", gain, gauss, gainBy),
            part("gain by temperature", warmth, gauss, warmthBy),
            part("seating", seating.relative(), gauss, seating.known()),
            field("zero and wander", SettlingRule.READING_WANDER_TESLA, "stated beforehand"),
            field("noise of the mean", NOISE_TESLA, "starting value"),
            field("converter's step", step, "rectangular")));
  }

  /** What moves a reading in proportion. */
  private static UncertaintyBudget.Input part(
      String name, StandardUncertainty relative, double gauss, String known) {
    return new UncertaintyBudget.Input(name, 1, "", relative, gauss, known);
  }

  /** What adds to a reading. */
  private static UncertaintyBudget.Input field(String name, double tesla, String known) {
    StandardUncertainty gauss = StandardUncertainty.known(new FluxDensity(tesla).gauss());
    return new UncertaintyBudget.Input(name, 0, "G", gauss, 1, known);
  }
}
