package lodestep.adapter.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.Proof;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.LedgerCreated;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;

/** What is checked of a ledger before anything is appended to it. */
final class StartCheck {

  /** Events at the end whose chain is checked at each start; the whole is proved on request. */
  private static final long TAIL_EVENTS = 2_000;

  private StartCheck() {}

  /**
   * Checks the file's pages, whose ledger it is, and the tail of the chain.
   *
   * @throws LedgerException if one of them is not in order
   */
  static void check(Path file, Connection connection, LedgerArchive archive, LedgerBinding binding)
      throws SQLException {
    String pages = SqliteConnections.text(connection, "PRAGMA quick_check(1)");
    if (!pages.equals("ok")) {
      throw damaged(file, pages);
    }
    binding
        .refusal(created(file, archive), file.toString())
        .ifPresent(
            sentence -> {
              throw new LedgerException(sentence);
            });
    checkTail(file, archive);
  }

  private static LedgerCreated created(Path file, LedgerArchive archive) {
    List<StoredEvent> first = new ArrayList<>();
    archive.forEach(1, 1, first::add);
    try {
      for (StoredEvent event : first) {
        LedgerEntry entry = EventCodec.decode(event);
        if (entry.event() instanceof LedgerCreated created) {
          return created;
        }
      }
    } catch (IllegalArgumentException unreadable) {
      throw damaged(file, "event 1: " + unreadable.getMessage());
    }
    throw damaged(file, "event 1 does not create a ledger");
  }

  private static void checkTail(Path file, LedgerArchive archive) {
    long newest = archive.newest().number();
    long before = Math.max(0, newest - TAIL_EVENTS);
    ChainEnd[] start = {ChainEnd.EMPTY};
    archive.forEach(before, before, event -> start[0] = event.end());
    Proof tail = Proof.after(start[0]);
    archive.forEach(start[0].number() + 1, newest, tail);
    tail.result()
        .match(
            whole -> whole,
            broken -> {
              throw damaged(file, "event " + broken.number() + ": " + broken.what());
            });
  }

  private static LedgerException damaged(Path file, String what) {
    return new LedgerException(
        String.format(
            "the ledger %s is damaged (%s); set it aside and begin a new one with: lodestep"
                + " set-aside --ledger \"%s\"",
            file, SqliteErrors.oneLine(what), file));
  }
}
