package lodestep.bench;

import java.util.Optional;
import java.util.stream.Stream;
import lodestep.config.ChargeBy;
import lodestep.config.CoilConfig;
import lodestep.config.JigConfig;
import lodestep.config.KnockDownBy;
import lodestep.config.Limits;
import lodestep.config.RigConfig;
import lodestep.dial.Accepted;
import lodestep.dial.CoilDrive;
import lodestep.dial.FieldSource;
import lodestep.dial.JigDrive;
import lodestep.dial.SwitchedDrive;
import lodestep.magnet.CurveFamily;
import lodestep.magnet.KnockDownCurve;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * A row of the plan with all that is worked out before the batch begins.
 *
 * @param kind alloy, shape, sizes and nest in words
 * @param charge what charges it; empty when a person does by hand
 * @param knockDown what knocks it down
 * @param family of a nominal magnet of this kind
 * @param saturating applied field that saturates it
 * @param jig the rig's jig, if it has one, whether or not it knocks down
 * @param expectedFull its full charge at the nest, without sign
 * @param again what it was accepted by, of a magnet that is only to be read again
 */
public record Prepared(
    PlanRow row,
    String kind,
    Optional<FieldSource> charge,
    FieldSource knockDown,
    CurveFamily family,
    FieldStrength saturating,
    FluxDensity expectedFull,
    Optional<JigConfig> jig,
    Limits limits,
    Optional<Accepted> again) {

  /** The curve reaches this many coercivities: beyond, any magnet has turned over. */
  private static final double CURVE_COERCIVITIES = 2.0;

  /** Works out what a row needs on this rig; some milliseconds. */
  public static Prepared of(PlanRow row, RigConfig rig) {
    String kind = row.alloy().name() + ", " + row.shape().words() + ", " + row.nest().name();
    return new Prepared(
        row,
        kind,
        rig.sources().charge() == ChargeBy.HAND ? Optional.empty() : Optional.of(coil(row, rig)),
        rig.sources().knockDown() == KnockDownBy.JIG
            ? JigDrive.over(rig.jig().orElseThrow(), row.shape().height())
            : coil(row, rig),
        CurveFamily.of(row.magnet(), row.nest().standOff(), reach(row)),
        row.magnet().saturating(),
        row.fullCharge(),
        rig.jig(),
        rig.limits(),
        Optional.empty());
  }

  private static FieldStrength reach(PlanRow row) {
    return new FieldStrength(CURVE_COERCIVITIES * row.alloy().coercivityJ().amperesPerMetre());
  }

  /** The knock-down curve of a nominal magnet of a row. */
  static KnockDownCurve nominalCurve(PlanRow row) {
    return KnockDownCurve.of(row.magnet(), row.nest().standOff(), reach(row));
  }

  /** The same magnet, which is only to be read again. */
  Prepared again(Accepted accepted) {
    return new Prepared(
        row,
        kind,
        charge,
        knockDown,
        family,
        saturating,
        expectedFull,
        jig,
        limits,
        Optional.of(accepted));
  }

  /** The knock-down curve of a nominal magnet of this kind. */
  KnockDownCurve curve() {
    return family.nominal();
  }

  /** Whether a person charges it before it is put in. */
  public boolean chargedBeforeSeated() {
    return again.isEmpty() && charge.isEmpty() && row.task().charges();
  }

  private static FieldSource coil(PlanRow row, RigConfig rig) {
    return coil(rig.coil(row.nest().coil()), rig);
  }

  /** This coil of this rig, with what feeds it. */
  static FieldSource coil(CoilConfig coil, RigConfig rig) {
    return rig.supply()
        .<FieldSource>map(supply -> new SwitchedDrive(coil, supply))
        .orElseGet(() -> new CoilDrive(coil, rig.bank()));
  }

  /** The source of this name; empty if none of this row's has it. */
  public Optional<FieldSource> source(String name) {
    return Stream.concat(charge.stream(), Stream.of(knockDown))
        .filter(source -> source.name().equals(name))
        .findFirst();
  }
}
