package lodestep.port;

import java.util.function.Consumer;

/**
 * The record, to be read back. One thread at a time; may wait for the disk, so never called in a
 * scan. Sees only what is durable, also while another connection or process appends.
 *
 * <p>Every method but {@link #close} throws {@link LedgerException} if the record cannot be read;
 * what it hands over is as stored and proves nothing by itself.
 */
public interface LedgerArchive extends AutoCloseable {

  /** Where the chain ends now. */
  ChainEnd newest();

  /** Hands over the events numbered {@code from} to {@code to}, both included, in rising order. */
  void forEach(long from, long to, Consumer<StoredEvent> each);

  /** Hands over the events about one magnet, in rising order; none if there is no such magnet. */
  void forEachOfMagnet(long magnet, Consumer<StoredEvent> each);

  /** Hands over the events of one kind, in rising order; {@code kind} as in {@link EventIndex}. */
  void forEachOfKind(String kind, Consumer<StoredEvent> each);

  /**
   * Hands over the events whose wall time lies from {@code fromEpochMs} to before {@code
   * toEpochMs}, in rising order of their numbers.
   */
  default void forEachOfTime(long fromEpochMs, long toEpochMs, Consumer<StoredEvent> each) {
    forEach(
        1,
        Long.MAX_VALUE,
        event -> {
          long at = event.index().wallEpochMs();
          if (at >= fromEpochMs && at < toEpochMs) {
            each.accept(event);
          }
        });
  }

  /**
   * Hands over at least the events that name a magnet so, letter by letter, in rising order; a
   * store without an index may hand over all that name one.
   *
   * @param kind of the events that name magnets, as in {@link EventIndex}
   * @param name as it stands on record
   */
  default void forEachNamed(String kind, String name, Consumer<StoredEvent> each) {
    forEachOfKind(kind, each);
  }

  /** Lets go; a second call does nothing. */
  @Override
  void close();
}
