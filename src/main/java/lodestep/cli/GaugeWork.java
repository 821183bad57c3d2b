package lodestep.cli;

import java.nio.file.Path;
import java.util.Optional;
import lodestep.bench.CheckJob;
import lodestep.bench.GuidedStudy;
import lodestep.bench.PointSeries;
import lodestep.bench.SeriesJob;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.StudyRecord;
import lodestep.measure.GaugeCalibration;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.quantity.FluxDensity;

/** What the commands on the gauge need of the program. Every refusal is a {@link Refusal}. */
public interface GaugeWork {

  /** The text of a small file in UTF-8, such as a sheet of readings. */
  String textOf(Path file);

  /** What is on record of the gauge; nothing when there is no such file yet. */
  GaugeRecord gaugeRecord(Path ledgerFile);

  /** The gauge's calibration in use on this rig. */
  GaugeCalibration calibrated(RigConfig rig, Path ledgerFile);

  /** What that calibration is by: a reference on record, or that it is nominal. */
  String calibratedBy(RigConfig rig, Path ledgerFile);

  /**
   * Puts one entry on record, as a run of the program of its own.
   *
   * @param why what was put on record, as the run's end
   */
  void keep(RigConfig rig, Path ledgerFile, LedgerEvent event, String why);

  /**
   * Puts a calibration on record; it is in use from then on.
   *
   * @param readBy ledger number of the calibration by which the reference was read
   */
  void calibrate(RigConfig rig, Path ledgerFile, CalibrationSet set, long readBy);

  /** Guides a check of the gauge. */
  CheckJob.Done check(CheckRun run, HeadWork.HandWatcher watcher);

  /** The guided studies on record; none when there is no such file yet. */
  StudyRecord studies(Path ledgerFile);

  /** Guides a study, or what is left of one. */
  SeriesJob.Done study(StudyRun run, HeadWork.HandWatcher watcher);

  /** Guides the readings of one magnet at several points. */
  SeriesJob.Done points(PointsRun run, HeadWork.HandWatcher watcher);

  /**
   * One magnet at several points.
   *
   * @param history what is on record of it
   * @param ledgerFile where every event goes
   * @param seed of a virtual rig
   */
  record PointsRun(
      RigConfig rig, MagnetHistory history, PointSeries series, Path ledgerFile, long seed) {}

  /**
   * A guided study.
   *
   * @param goesOn the study on record that is taken up again; empty for a new one
   * @param tolerance half width of the band the gauge is to tell, if one was named
   * @param ledgerFile where every event goes
   * @param seed of a virtual rig
   */
  record StudyRun(
      RigConfig rig,
      NestConfig nest,
      GuidedStudy study,
      Optional<StudyRecord.Study> goesOn,
      Optional<FluxDensity> tolerance,
      Path ledgerFile,
      long seed) {}

  /**
   * A check of the gauge.
   *
   * @param ledgerFile where every event goes
   * @param seed of a virtual rig
   */
  record CheckRun(RigConfig rig, ReferenceConfig reference, Path ledgerFile, long seed) {}
}
