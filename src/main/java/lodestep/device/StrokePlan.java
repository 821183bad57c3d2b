package lodestep.device;

import java.util.List;
import lodestep.config.JigConfig;
import lodestep.config.Limits;
import lodestep.port.LedgerEvent;
import lodestep.port.StrokeIntended;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;

/**
 * What stays the same through one stroke of the jig.
 *
 * @param order what it is for
 * @param position the lowest the carriage is to come to
 * @param workHeight of the magnet in the nest
 * @param intentNumber the ledger number of its intent
 * @param fieldsAperM field at the work for every {@link #SPACING_MICRO_METRES} of the carriage's
 *     way from home, rising
 */
public record StrokePlan(
    Order order,
    Length position,
    Length workHeight,
    long intentNumber,
    List<Double> fieldsAperM,
    JigConfig jig,
    Limits limits) {

  /** Spacing of the fields along the carriage's way. */
  public static final int SPACING_MICRO_METRES = 250;

  public StrokePlan {
    fieldsAperM = List.copyOf(fieldsAperM);
  }

  /** Down, home to prove the count, and to the park position. */
  JigMove move(long nowNs) {
    List<Integer> way =
        List.of((int) position.microMetres(), 0, (int) jig.screw().park().microMetres());
    return JigMove.through(jig, way, nowNs);
  }

  /** Field at the work with the carriage this far from home. */
  FieldStrength fieldAt(int microMetres) {
    double place = Math.max(0, microMetres) / (double) SPACING_MICRO_METRES;
    int below = (int) Math.min(fieldsAperM.size() - 2, Math.floor(place));
    double from = fieldsAperM.get(below);
    double to = fieldsAperM.get(below + 1);
    // The field grows by nearly the same part with each step.
    return new FieldStrength(from * Math.pow(to / from, place - below));
  }

  /** Gap between the two faces with the carriage this far from home. */
  Length gapAt(int microMetres) {
    return jig.gap(Length.ofMicroMetres(microMetres), workHeight);
  }

  LedgerEvent.Intent intent() {
    int lowest = (int) position.microMetres();
    return new StrokeIntended(
        order.magnet(),
        order.attempt(),
        order.ordinal(),
        order.purpose(),
        order.drivesNorth(),
        lowest,
        gapAt(lowest).microMetres(),
        Math.round(order.field().amperesPerMetre()));
  }
}
