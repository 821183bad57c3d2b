package lodestep.dial;

import java.util.Optional;
import lodestep.config.Limits;
import lodestep.config.NestConfig;
import lodestep.magnet.CurveFamily;
import lodestep.magnet.KnockDownCurve;
import lodestep.magnet.Neutral;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.Seating;
import lodestep.measure.SettledReading;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * One magnet and what is asked of it: what stays the same through an attempt.
 *
 * @param magnet its identity: the ledger number that named it
 * @param attempt counts from 1
 * @param asFoundBefore what an earlier attempt found before its first pulse, so that "down by" is
 *     not taken twice
 * @param kind alloy, shape and sizes in words: what may be learned from one and used for the next
 * @param charge what charges it; empty when a person does by hand
 * @param knockDown what knocks it down, demagnetises it and proves it; may be another source
 * @param family knock-down curves of magnets of this kind
 * @param expectedFull full charge of a nominal magnet at this nest, without sign; a rough figure
 * @param saturating applied field that saturates a nominal magnet of this kind
 * @param coercivity HcJ of the alloy
 * @param calibration of the gauge, {@code calibrationNumber} its ledger number
 * @param keep what it is to keep beside its target
 * @param neutral how such a magnet is brought to nothing with few pulses; empty where nobody knows
 * @param again what it was accepted by, of a magnet that is only to be read again
 * @param placement relative standard uncertainty of how it lies in its nest, &ge; 0
 */
public record Work(
    long magnet,
    long attempt,
    Optional<FluxDensity> asFoundBefore,
    String kind,
    Task task,
    PoleUp pole,
    NestConfig nest,
    Optional<FieldSource> charge,
    FieldSource knockDown,
    CurveFamily family,
    FluxDensity expectedFull,
    FieldStrength saturating,
    FieldStrength coercivity,
    PlannerMode mode,
    GaugeCalibration calibration,
    long calibrationNumber,
    Limits limits,
    Keep keep,
    Optional<Neutral> neutral,
    Optional<Accepted> again,
    double placement) {

  /** A magnet that is dialed and asked to keep nothing. */
  public Work(
      long magnet,
      long attempt,
      Optional<FluxDensity> asFoundBefore,
      String kind,
      Task task,
      PoleUp pole,
      NestConfig nest,
      Optional<FieldSource> charge,
      FieldSource knockDown,
      CurveFamily family,
      FluxDensity expectedFull,
      FieldStrength saturating,
      FieldStrength coercivity,
      PlannerMode mode,
      GaugeCalibration calibration,
      long calibrationNumber,
      Limits limits,
      double placement) {
    this(
        magnet,
        attempt,
        asFoundBefore,
        kind,
        task,
        pole,
        nest,
        charge,
        knockDown,
        family,
        expectedFull,
        saturating,
        coercivity,
        mode,
        calibration,
        calibrationNumber,
        limits,
        Keep.NOTHING,
        Optional.empty(),
        Optional.empty(),
        placement);
  }

  /** Standard uncertainty of the level that this reading, gain and zero counted in, tells. */
  FluxDensity ofLevel(SettledReading reading) {
    return Seating.ofLevel(placement, reading.value(), reading.standardUncertainty());
  }

  /** The knock-down curve of a nominal magnet of this kind. */
  KnockDownCurve curve() {
    return family.nominal();
  }

  /**
   * What acts for this purpose.
   *
   * @throws IllegalStateException if it is to charge and nothing on this rig does
   */
  FieldSource source(Purpose purpose) {
    return purpose == Purpose.CHARGE
        ? charge.orElseThrow(() -> new IllegalStateException("nothing on this rig charges"))
        : knockDown;
  }

  /**
   * Whether a person charges it before it is put in: an attempt on it begins with a charge, and
   * nothing on this rig charges.
   */
  public boolean chargedBeforeSeated() {
    return again.isEmpty() && charge.isEmpty() && task.charges();
  }

  /** A charge that a person makes: as strong as the jaws are. */
  Move.Fire chargeByHand() {
    return new Move.Fire(Purpose.CHARGE, new FieldStrength(0), pole == PoleUp.NORTH);
  }
}
