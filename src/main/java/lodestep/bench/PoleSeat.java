package lodestep.bench;

import java.util.Optional;
import lodestep.ledger.Pickup;
import lodestep.port.StockEvent.PoleTopRead;
import lodestep.quantity.Length;

/**
 * How a pickup is held at the gauge. Any thread, immutable.
 *
 * @param seat what holds it
 * @param spacer between pole top and gauge
 */
public record PoleSeat(String seat, Length spacer) {

  private static final PoleSeat USUAL = new PoleSeat("pickup seat", Length.ofMm(2.2));
  private static final double MM_MIN = 0.1;
  private static final double MM_MAX = 20;

  /** As in this round; as usual if there was none. */
  public static PoleSeat like(Optional<Pickup.Round> last) {
    return last.map(
            round -> {
              PoleTopRead first = round.poles().get(0);
              return new PoleSeat(first.seat(), Length.ofMicroMetres(first.spacerMicroMetres()));
            })
        .orElse(USUAL);
  }

  /** The same with another seat. */
  public PoleSeat in(String other) {
    return new PoleSeat(other, spacer);
  }

  /**
   * The same with another spacer.
   *
   * @param sign before the field's name in a sentence: two dashes on a command line
   * @param written like "2.2 mm"
   * @throws IllegalArgumentException with one sentence, if it is no spacer
   */
  public PoleSeat over(String sign, String written) {
    Length length = Length.parse(written);
    if (!(length.mm() >= MM_MIN && length.mm() <= MM_MAX)) {
      throw new IllegalArgumentException(
          sign + "spacer: " + written + " is no spacer; 0.1 to 20 mm are");
    }
    return new PoleSeat(seat, length);
  }
}
