package lodestep.bench;

import lodestep.config.Limits;
import lodestep.config.RigConfig;
import lodestep.dial.CoilDrive;
import lodestep.magnet.KnockDownCurve;
import lodestep.magnet.MagnetModel;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * A row of the plan with all that is worked out before the batch begins.
 *
 * @param kind alloy, shape, sizes and nest in words
 * @param curve of a nominal magnet of this kind
 * @param saturating applied field that saturates it
 * @param expectedFull its full charge at the nest, without sign; over-reads a real one
 */
public record Prepared(
    PlanRow row,
    String kind,
    CoilDrive drive,
    KnockDownCurve curve,
    FieldStrength saturating,
    FluxDensity expectedFull,
    Limits limits) {

  /** The curve reaches this many coercivities: beyond, any magnet has turned over. */
  private static final double CURVE_COERCIVITIES = 2.0;

  /** Works out what a row needs on this rig; some milliseconds. */
  public static Prepared of(PlanRow row, RigConfig rig) {
    MagnetModel model = MagnetModel.of(row.alloy(), row.shape());
    FieldStrength saturating = model.saturatingApplied(row.alloy().saturatingField());
    FieldStrength reach =
        new FieldStrength(CURVE_COERCIVITIES * row.alloy().coercivityJ().amperesPerMetre());
    return new Prepared(
        row,
        row.alloy().name() + ", " + row.shape().words() + ", " + row.nest().name(),
        new CoilDrive(rig.coil(row.nest().coil()), rig.bank()),
        KnockDownCurve.of(model, saturating, reach),
        saturating,
        MagnetModel.chargedFaceField(row.alloy(), row.shape(), row.nest().standOff()),
        rig.limits());
  }
}
