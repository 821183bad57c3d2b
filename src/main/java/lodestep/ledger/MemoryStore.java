package lodestep.ledger;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Predicate;
import lodestep.port.ChainEnd;
import lodestep.port.EventStore;
import lodestep.port.StoredEvent;

/**
 * A store that keeps its events in memory: the twin of the one on disk, and as durable as the
 * program. One thread. It can still be read after {@link #close}.
 */
public final class MemoryStore implements EventStore {

  private final List<StoredEvent> events = new ArrayList<>();

  @Override
  public void commit(List<StoredEvent> following) {
    Follows.check(newest(), following);
    events.addAll(following);
  }

  @Override
  public ChainEnd newest() {
    return events.isEmpty() ? ChainEnd.EMPTY : events.get(events.size() - 1).end();
  }

  @Override
  public void forEach(long from, long to, Consumer<StoredEvent> each) {
    int first = (int) Math.min(Math.max(from, 1) - 1, events.size());
    int last = (int) Math.max(first, Math.min(to, events.size()));
    List.copyOf(events.subList(first, last)).forEach(each);
  }

  @Override
  public void forEachOfMagnet(long magnet, Consumer<StoredEvent> each) {
    forEachThat(event -> magnet > 0 && event.index().magnet() == magnet, each);
  }

  @Override
  public void forEachOfKind(String kind, Consumer<StoredEvent> each) {
    forEachThat(event -> event.index().kind().equals(kind), each);
  }

  private void forEachThat(Predicate<StoredEvent> wanted, Consumer<StoredEvent> each) {
    events.stream().filter(wanted).toList().forEach(each);
  }

  @Override
  public void close() {
    // Nothing is held but memory.
  }
}
