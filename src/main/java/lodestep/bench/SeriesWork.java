package lodestep.bench;

import java.util.List;
import java.util.Optional;
import lodestep.config.Limits;
import lodestep.config.NestConfig;
import lodestep.measure.GaugeCalibration;
import lodestep.port.LedgerEvent;

/**
 * Readings to be taken one after another, a placing each. Any thread, immutable.
 *
 * @param nest where they are taken
 * @param calibration of the gauge
 * @param limits of the rig
 * @param placings all of the series, those on record too
 * @param done how many are on record from earlier
 * @param opens the event that begins the series; empty when it goes on
 * @param number of the event that began it; 0 when it begins now
 * @param closes what it comes to with its last reading
 */
public record SeriesWork(
    NestConfig nest,
    GaugeCalibration calibration,
    Limits limits,
    List<Placing> placings,
    int done,
    Optional<LedgerEvent> opens,
    long number,
    SeriesClosing closes) {

  /**
   * @throws IllegalArgumentException if nothing is left to be read
   */
  public SeriesWork {
    placings = List.copyOf(placings);
    if (done < 0 || done >= placings.size()) {
      throw new IllegalArgumentException("nothing is left to be read");
    }
  }
}
