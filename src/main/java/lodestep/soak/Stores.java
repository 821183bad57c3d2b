package lodestep.soak;

import java.util.ArrayList;
import java.util.List;
import lodestep.ledger.MemoryStore;
import lodestep.port.StoredEvent;

/** Stores as a crash may leave them. */
final class Stores {

  private Stores() {}

  /** A copy that lacks the newest events. */
  static MemoryStore without(MemoryStore store, int newest) {
    List<StoredEvent> kept = new ArrayList<>();
    store.forEach(1, store.newest().number() - newest, kept::add);
    MemoryStore cut = new MemoryStore();
    cut.commit(kept);
    return cut;
  }
}
