package lodestep.contract;

import java.util.List;
import java.util.function.Consumer;
import lodestep.port.ChainEnd;
import lodestep.port.EventStore;
import lodestep.port.StoredEvent;

/** A store in front of another, to which it hands everything; a test changes what it wants. */
public abstract class StoreBehind implements EventStore {

  private final EventStore behind;

  /**
   * @param behind does the work
   */
  protected StoreBehind(EventStore behind) {
    this.behind = behind;
  }

  @Override
  public void commit(List<StoredEvent> events) {
    behind.commit(events);
  }

  @Override
  public ChainEnd newest() {
    return behind.newest();
  }

  @Override
  public void forEach(long from, long to, Consumer<StoredEvent> each) {
    behind.forEach(from, to, each);
  }

  @Override
  public void forEachOfMagnet(long magnet, Consumer<StoredEvent> each) {
    behind.forEachOfMagnet(magnet, each);
  }

  @Override
  public void forEachOfKind(String kind, Consumer<StoredEvent> each) {
    behind.forEachOfKind(kind, each);
  }

  @Override
  public void close() {
    behind.close();
  }
}
