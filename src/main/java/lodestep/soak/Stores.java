package lodestep.soak;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import lodestep.ledger.MemoryStore;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerArchive;
import lodestep.port.StoredEvent;

/** Stores as a crash may leave them. */
final class Stores {

  private Stores() {}

  /** A copy that lacks this event and whatever came after it. */
  static MemoryStore endingBefore(MemoryStore store, long number) {
    List<StoredEvent> kept = new ArrayList<>();
    store.forEach(1, number - 1, kept::add);
    MemoryStore cut = new MemoryStore();
    cut.commit(kept);
    return cut;
  }

  /** The same, but that the bytes of its second event are those of the first. */
  static LedgerArchive exchanged(MemoryStore store) {
    return new Exchanged(store);
  }

  private record Exchanged(MemoryStore store) implements LedgerArchive {
    @Override
    public ChainEnd newest() {
      return store.newest();
    }

    @Override
    public void forEach(long from, long to, Consumer<StoredEvent> each) {
      List<StoredEvent> first = new ArrayList<>();
      store.forEach(1, 1, first::add);
      store.forEach(
          from, to, event -> each.accept(event.number() == 2 ? with(event, first.get(0)) : event));
    }

    private static StoredEvent with(StoredEvent event, StoredEvent other) {
      return new StoredEvent(event.index(), other.payload(), event.hash());
    }

    @Override
    public void forEachOfMagnet(long magnet, Consumer<StoredEvent> each) {
      store.forEachOfMagnet(magnet, each);
    }

    @Override
    public void forEachOfKind(String kind, Consumer<StoredEvent> each) {
      store.forEachOfKind(kind, each);
    }

    @Override
    public void close() {
      store.close();
    }
  }
}
