package lodestep.port;

import java.util.List;

/** Where events are kept for good. One thread at a time; may wait for the disk. */
public interface EventStore extends LedgerArchive {

  /**
   * Stores the events, all or none. When it returns they are durable: neither a killed program nor
   * a power cut loses them.
   *
   * @param events in rising order, following {@link #newest} without a gap; may be empty
   * @throws LedgerException if they could not be stored; none of them counts as stored then
   * @throws IllegalArgumentException if they do not follow
   */
  void commit(List<StoredEvent> events);
}
