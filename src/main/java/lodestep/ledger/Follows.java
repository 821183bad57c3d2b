package lodestep.ledger;

import java.util.List;
import lodestep.port.ChainEnd;
import lodestep.port.StoredEvent;

/** The rule of every store: what is committed follows what is there. */
public final class Follows {

  private Follows() {}

  /**
   * Checks that the events follow the end of the chain, by number and by hash.
   *
   * @throws IllegalArgumentException naming the first that does not
   */
  public static void check(ChainEnd end, List<StoredEvent> events) {
    ChainEnd before = end;
    for (StoredEvent event : events) {
      if (event.number() != before.number() + 1
          || !event.hash().equals(Chain.next(before.hash(), event.payload()))) {
        throw new IllegalArgumentException(
            "event " + event.number() + " does not follow event " + before.number());
      }
      before = event.end();
    }
  }
}
