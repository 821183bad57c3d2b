package lodestep.app;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import lodestep.config.RigConfig;
import lodestep.ledger.EventCodec;
import lodestep.measure.GaugeCalibration;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.quantity.Temperature;

/**
 * The gauge's calibration in use: the newest on record that was made by a reference, else what the
 * rig's description says. Any thread, immutable.
 *
 * @param source certificate or procedure that gave it
 */
record Calibrated(GaugeCalibration calibration, String source) {

  private static final String NOMINAL = "nominal, not calibrated";

  /** What the rig's description says, with nothing on record. */
  static GaugeCalibration nominal(RigConfig rig) {
    return new GaugeCalibration(
        rig.gauge().countsPerTesla(),
        rig.gauge().gain().perKelvin(),
        Temperature.ofDegC(20),
        rig.gauge().gain().uncertainty());
  }

  /** The same with its source. */
  static Calibrated nominally(RigConfig rig) {
    return new Calibrated(nominal(rig), NOMINAL);
  }

  /** By this record; errors are the archive's. */
  static Calibrated of(RigConfig rig, LedgerArchive archive) {
    CalibrationSet[] newest = new CalibrationSet[1];
    archive.forEachOfKind(
        EventCodec.kind(CalibrationSet.class),
        stored -> {
          CalibrationSet set = (CalibrationSet) EventCodec.decode(stored).event();
          newest[0] = set.source().equals(NOMINAL) ? newest[0] : set;
        });
    return Optional.ofNullable(newest[0])
        .filter(set -> isOfThisGauge(set, rig))
        .map(set -> new Calibrated(calibration(set, rig), set.source()))
        .orElseGet(() -> nominally(rig));
  }

  /** By the record in this file, which need not be there. */
  static Calibrated of(RigConfig rig, Path ledgerFile, Wiring wiring) {
    if (!Files.exists(ledgerFile)) {
      return nominally(rig);
    }
    try (LedgerArchive archive = wiring.archive(ledgerFile)) {
      return of(rig, archive);
    }
  }

  /** A gain far from what the rig's description says was another gauge's. */
  private static boolean isOfThisGauge(CalibrationSet set, RigConfig rig) {
    double ratio = set.countsPerTesla() / rig.gauge().countsPerTesla();
    return Math.abs(ratio - 1) <= GaugeCalibration.CORRECTION_BY_REFERENCE_MAX;
  }

  /** The reference tells the gain; how that moves with temperature is the description's to say. */
  private static GaugeCalibration calibration(CalibrationSet set, RigConfig rig) {
    return new GaugeCalibration(
        set.countsPerTesla(),
        rig.gauge().gain().perKelvin(),
        Temperature.ofDegC(set.referenceCentiDegC() * 1e-2),
        set.gainStandardUncertaintyPpm() * 1e-6);
  }
}
