package lodestep.bench;

import java.util.List;
import lodestep.config.Limits;
import lodestep.measure.GaugeCalibration;
import lodestep.port.StockEvent.PickupBuilt;
import lodestep.quantity.Length;

/**
 * A pickup whose pole tops are to be read. Any thread, immutable.
 *
 * @param pickup its number; 0 when it is named by this work
 * @param built what names it, when this work does; its name otherwise too
 * @param round which reading of it this is, from 1
 * @param stage "as built", "as found" or "as returned"
 * @param seat what holds the pickup at the gauge
 * @param spacer between pole top and gauge
 */
public record PoleWork(
    long pickup,
    PickupBuilt built,
    long round,
    String stage,
    String seat,
    Length spacer,
    GaugeCalibration calibration,
    Limits limits) {

  /** The stages of a reading of a whole pickup. */
  public static final String AS_BUILT = "as built";

  /** Nothing is on record of when it was built. */
  public static final String AS_FOUND = "as found";

  /** It came back. */
  public static final String AS_RETURNED = "as returned";

  /** All stages. */
  public static final List<String> STAGES = List.of(AS_BUILT, AS_FOUND, AS_RETURNED);
}
