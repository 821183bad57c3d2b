package lodestep.scan;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import lodestep.port.EventDraft;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;

/**
 * Entries that people put on record beside the job: handed over by any thread, appended by the
 * control thread, which alone writes.
 */
public final class Notes {

  /** People write slower than scans run; more than this is a runaway client. */
  static final int ROOM = 16;

  private final BlockingQueue<Note> waiting = new ArrayBlockingQueue<>(ROOM);

  /** Those that are not known to be durable yet. */
  private final List<Note> appended = new ArrayList<>();

  Notes() {}

  /**
   * Hands an entry over; the next scan appends it. Any thread.
   *
   * @return empty while too many wait
   */
  public Optional<Note> offer(LedgerEvent event) {
    Note note = new Note(event);
    return waiting.offer(note) ? Optional.of(note) : Optional.empty();
  }

  /** After the job's own events, which have been numbered already. Control thread only. */
  void append(Ledger ledger, long nowNs, Instant wall) {
    for (Note note = waiting.poll(); note != null; note = waiting.poll()) {
      note.appended(ledger.nextNumber());
      ledger.append(new EventDraft(note.event(), nowNs, wall));
      appended.add(note);
    }
    if (!appended.isEmpty()) {
      LedgerState state = ledger.state();
      appended.removeIf(note -> note.settled(state.durableTo(), state.fault()));
    }
  }
}
