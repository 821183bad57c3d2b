package lodestep.bench;

import java.util.List;
import java.util.Optional;
import lodestep.measure.SettledReading;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/** One placing of a magnet in a nest, and what its settled reading becomes. Pure. */
public interface Placing {

  /** What to do, one sentence without "and press Enter". */
  String asks();

  /** What is under way while it is read: "reading low". */
  String name();

  /** Whether the magnet before is to be seen leaving the nest first. */
  boolean anew();

  /**
   * Why this reading cannot be that of the placing, and what to do; empty if it can.
   *
   * @param first what a placing of this name read first since the job began; empty if nothing
   */
  Optional<String> objection(SettledReading reading, Optional<FluxDensity> first);

  /** Its entries in the record. */
  List<LedgerEvent> entries(Taken taken);

  /**
   * A settled reading with what it was taken by.
   *
   * @param series ledger number of the event that began the series
   * @param ordinal which reading of the series, from 1
   * @param gaugeCentiDegC at the gauge
   * @param zero ledger number of the zero, {@code calibration} of the calibration
   * @param number ledger number of the first entry made of it
   */
  record Taken(
      long series,
      long ordinal,
      SettledReading reading,
      long gaugeCentiDegC,
      long zero,
      long calibration,
      long number) {

    long fieldMicroTesla() {
      return reading.value().microTesla();
    }

    long uncertaintyNanoTesla() {
      return Math.round(reading.standardUncertainty().tesla() * 1e9);
    }
  }
}
