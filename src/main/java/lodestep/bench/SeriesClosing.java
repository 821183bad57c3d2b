package lodestep.bench;

import java.util.List;
import lodestep.measure.SettledReading;
import lodestep.port.LedgerEvent;

/** What a series of readings that is complete comes to. Pure. */
@FunctionalInterface
public interface SeriesClosing {

  /** A series that ends with its last reading. */
  SeriesClosing NONE = (series, readings) -> List.of();

  /**
   * The entries after its last reading.
   *
   * @param series ledger number of the event that began it
   * @param readings one for each placing, in their order
   */
  List<LedgerEvent> entries(long series, List<SettledReading> readings);
}
