package lodestep.port;

import java.util.List;

/** The append-only record. Control thread only; never blocks. */
public interface Ledger extends AutoCloseable {

  /** The number the next appended event will get; numbers rise by one without a gap, from 1. */
  long nextNumber();

  /** Hands an event over; it is durable once {@link LedgerState#durableTo} reaches its number. */
  void append(EventDraft draft);

  /**
   * Hands over events that belong together: they go into one commit, so that after a power cut all
   * of them are there or none. Whoever commits on another thread must not see them one by one.
   */
  default void append(List<EventDraft> drafts) {
    drafts.forEach(this::append);
  }

  /** How far the record is durable, and whether it has failed. */
  LedgerState state();

  /** Writes what was appended, if it can, and lets the record go. */
  @Override
  void close();
}
