package lodestep.scan;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.atomic.AtomicInteger;
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

  /**
   * Entries that may wait or be on their way to the disk: a file of notes, and room for the job's
   * own beside it before the ledger gives its disk up.
   */
  public static final int ENTRIES_MAX = 600;

  private final BlockingQueue<Note> waiting = new ArrayBlockingQueue<>(ROOM);

  /** Those that are not known to be durable yet. */
  private final List<Note> appended = new ArrayList<>();

  private final AtomicInteger entries = new AtomicInteger();

  Notes() {}

  /**
   * Hands entries over that belong together; the next scan appends them, and they go into one
   * commit. Any thread.
   *
   * @param events at least one, {@value #ENTRIES_MAX} at the most
   * @return empty while too many wait
   */
  public Optional<Note> offer(List<LedgerEvent> events) {
    Note note = new Note(events);
    if (entries.addAndGet(events.size()) > ENTRIES_MAX || !waiting.offer(note)) {
      entries.addAndGet(-events.size());
      return Optional.empty();
    }
    return Optional.of(note);
  }

  /** After the job's own events, which have been numbered already. Control thread only. */
  void append(Ledger ledger, long nowNs, Instant wall) {
    for (Note note = waiting.poll(); note != null; note = waiting.poll()) {
      note.appended(ledger.nextNumber() + note.events().size() - 1);
      ledger.append(
          note.events().stream().map(event -> new EventDraft(event, nowNs, wall)).toList());
      appended.add(note);
    }
    if (!appended.isEmpty()) {
      LedgerState state = ledger.state();
      appended.removeIf(note -> isOver(note, state));
    }
  }

  private boolean isOver(Note note, LedgerState state) {
    boolean over = note.settled(state.durableTo(), state.fault());
    if (over) {
      entries.addAndGet(-note.events().size());
    }
    return over;
  }
}
