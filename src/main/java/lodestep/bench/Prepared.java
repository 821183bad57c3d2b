package lodestep.bench;

import java.util.Optional;
import java.util.stream.Stream;
import lodestep.config.Limits;
import lodestep.config.RigConfig;
import lodestep.dial.CoilDrive;
import lodestep.dial.FieldSource;
import lodestep.magnet.KnockDownCurve;
import lodestep.magnet.MagnetModel;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * A row of the plan with all that is worked out before the batch begins.
 *
 * @param kind alloy, shape, sizes and nest in words
 * @param charge what charges it; empty when a person does by hand
 * @param knockDown what knocks it down
 * @param curve of a nominal magnet of this kind
 * @param saturating applied field that saturates it
 * @param expectedFull its full charge at the nest, without sign; over-reads a real one
 */
public record Prepared(
    PlanRow row,
    String kind,
    Optional<FieldSource> charge,
    FieldSource knockDown,
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
    FieldSource coil = new CoilDrive(rig.coil(row.nest().coil()), rig.bank());
    return new Prepared(
        row,
        row.alloy().name() + ", " + row.shape().words() + ", " + row.nest().name(),
        Optional.of(coil),
        coil,
        KnockDownCurve.of(model, saturating, reach),
        saturating,
        MagnetModel.chargedFaceField(row.alloy(), row.shape(), row.nest().standOff()),
        rig.limits());
  }

  /** The source of this name; empty if none of this row's has it. */
  public Optional<FieldSource> source(String name) {
    return Stream.concat(charge.stream(), Stream.of(knockDown))
        .filter(source -> source.name().equals(name))
        .findFirst();
  }
}
