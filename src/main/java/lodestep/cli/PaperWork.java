package lodestep.cli;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import lodestep.bench.PoleJob;
import lodestep.bench.PoleSeat;
import lodestep.bench.PoleWork;
import lodestep.config.RigConfig;
import lodestep.measure.GaugeCalibration;
import lodestep.paper.ReturnCase;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import lodestep.port.Sheet;
import lodestep.port.Stickers;
import lodestep.port.StockEvent.PickupBuilt;

/**
 * What the commands on things with names need of the program: the record kept, pickups read, paper
 * written. Every refusal is a {@link Refusal}.
 */
public interface PaperWork {

  /** Writes a sheet as PDF, whole or not at all; an older file of this name is replaced. */
  void write(Sheet sheet, Path file);

  /** Writes labels as PDF, whole or not at all; an older file of this name is replaced. */
  void write(Stickers stickers, Path file);

  /** The latest day that it can be anywhere now. */
  LocalDate latestDay();

  /**
   * Puts one entry on record, as a run of the program of its own.
   *
   * @param why the run ends, in words
   * @return where the entry stands
   */
  default ChainEnd keep(RigConfig rig, Path ledgerFile, LedgerEvent event, String why) {
    return keep(rig, ledgerFile, List.of(event), why);
  }

  /**
   * Puts entries on record, all of them in one commit or none, as one run of the program.
   *
   * @param events one at least
   * @return where the last of them stands
   */
  ChainEnd keep(RigConfig rig, Path ledgerFile, List<LedgerEvent> events, String why);

  /** Guides the reading of a pickup's pole tops. */
  PoleJob.Done poles(PoleRun run, HeadWork.HandWatcher watcher);

  /**
   * A reading of pole tops.
   *
   * @param pickup its number; 0 when it is named by this work
   * @param built what names it
   * @param seat how it is held at the gauge
   * @param magnets of it that are on record, for the virtual rig, in the order of the strings
   * @param seed of a virtual rig
   * @param sinceAmperesPerMetre on a virtual rig, an opposing field that the pickup has seen since
   *     it was built
   */
  record PoleRun(
      RigConfig rig,
      Path ledgerFile,
      long pickup,
      PickupBuilt built,
      long round,
      String stage,
      PoleSeat seat,
      List<ReturnCase.Magnet> magnets,
      long seed,
      double sinceAmperesPerMetre) {
    public PoleRun {
      magnets = List.copyOf(magnets);
    }

    /** The work of it, by a gauge that is calibrated so. */
    public PoleWork work(GaugeCalibration calibration) {
      return new PoleWork(
          pickup, built, round, stage, seat.seat(), seat.spacer(), calibration, rig.limits());
    }
  }
}
