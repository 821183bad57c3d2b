package lodestep.ledger;

import java.util.function.Consumer;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerArchive;
import lodestep.port.StoredEvent;

/** A record as it stood after one of its entries; what came later is not seen. One thread. */
public final class AsOf implements LedgerArchive {

  private final LedgerArchive archive;
  private final long last;

  /**
   * Looks at an archive, which is closed with this.
   *
   * @param last the newest entry that is seen
   */
  public AsOf(LedgerArchive archive, long last) {
    this.archive = archive;
    this.last = last;
  }

  @Override
  public ChainEnd newest() {
    ChainEnd[] end = {ChainEnd.EMPTY};
    archive.forEach(last, last, stored -> end[0] = stored.end());
    return end[0].number() == last ? end[0] : archive.newest();
  }

  @Override
  public void forEach(long from, long to, Consumer<StoredEvent> each) {
    archive.forEach(from, Math.min(to, last), each);
  }

  @Override
  public void forEachOfMagnet(long magnet, Consumer<StoredEvent> each) {
    archive.forEachOfMagnet(magnet, seen(each));
  }

  @Override
  public void forEachOfKind(String kind, Consumer<StoredEvent> each) {
    archive.forEachOfKind(kind, seen(each));
  }

  @Override
  public void forEachOfTime(long fromEpochMs, long toEpochMs, Consumer<StoredEvent> each) {
    archive.forEachOfTime(fromEpochMs, toEpochMs, seen(each));
  }

  @Override
  public void forEachNamed(String kind, String name, Consumer<StoredEvent> each) {
    archive.forEachNamed(kind, name, seen(each));
  }

  private Consumer<StoredEvent> seen(Consumer<StoredEvent> each) {
    return stored -> {
      if (stored.number() <= last) {
        each.accept(stored);
      }
    };
  }

  @Override
  public void close() {
    archive.close();
  }
}
