package lodestep.paper;

import java.util.List;
import lodestep.ledger.MagnetNames;
import lodestep.port.LedgerArchive;
import lodestep.port.StockEvent.LotReceived;
import lodestep.quantity.Nearest;

/**
 * A sample of a lot: some of its magnets charged in full and read, as a batch of its own. Any
 * thread, immutable.
 *
 * @param received the newest entry that says this lot came in
 * @param name of the batch and of its magnets, which nothing on record has yet
 */
public record LotSample(LotReceived received, String name) {

  /** What is asked of each of its magnets, as a plan's cell has it. */
  public static final String TARGET = "full charge";

  /** Leaves a name room for what tells it from others. */
  private static final int LOT_IN_NAME_MAX = 24;

  /**
   * The next sample of this lot; errors of the record are the archive's.
   *
   * @param by what puts a lot on record, for the refusal
   * @throws IllegalArgumentException with one sentence, if nothing says that it came in
   */
  public static LotSample of(LedgerArchive archive, String lot, String by) {
    Things things = new Things(archive);
    LotReceived received =
        things.lot(lot).received().stream()
            .reduce((earlier, later) -> later)
            .orElseThrow(() -> unknown(lot, things.lots(), by));
    String of = received.lot().substring(0, Math.min(LOT_IN_NAME_MAX, received.lot().length()));
    return new LotSample(received, MagnetNames.of(archive).free(of.strip() + " sample"));
  }

  /** There is no such lot among these, and that it is to be put on record. */
  public static IllegalArgumentException unknown(String lot, List<String> lots, String by) {
    return new IllegalArgumentException(
        "nothing says that a lot '"
            + lot.strip()
            + "' came in; put it on record first: "
            + by
            + Nearest.hint(lot.strip(), lots));
  }
}
