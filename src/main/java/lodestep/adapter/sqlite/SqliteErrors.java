package lodestep.adapter.sqlite;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.Objects;
import lodestep.port.LedgerException;

/** What SQLite's result codes mean for the winder, as one sentence. */
final class SqliteErrors {

  /** Result codes of SQLite (sqlite.org/rescode.html); the low byte is the primary code. */
  private static final int PRIMARY_MASK = 0xff;

  static final int BUSY = 5;
  static final int LOCKED = 6;
  static final int READONLY = 8;
  static final int IOERR = 10;
  static final int CORRUPT = 11;
  static final int FULL = 13;
  static final int CANTOPEN = 14;
  static final int CONSTRAINT = 19;
  static final int NOTADB = 26;

  /** As much as SQLite asks for beside a ledger that is read. */
  private static final long LEAST_ROOM_BYTES = 65_536;

  private SqliteErrors() {}

  /** The primary result code; extended codes are folded into it. */
  static int primaryCode(SQLException failed) {
    return failed.getErrorCode() & PRIMARY_MASK;
  }

  /** Whether the failure left the file as it was before the transaction, known for sure. */
  static boolean isClean(SQLException failed) {
    int code = primaryCode(failed);
    return code == FULL || code == READONLY || code == BUSY || code == LOCKED;
  }

  /**
   * The failure as a sentence.
   *
   * @param doing what could not be done to the ledger: "opened", "read", "written"
   */
  static LedgerException explain(String doing, Path file, SQLException failed) {
    return new LedgerException(
        String.format("the ledger %s cannot be %s: %s", file, doing, why(failed, file)), failed);
  }

  /** Reading needs a little room beside the file; without it SQLite tells of an error only. */
  private static boolean isFull(Path file) {
    try {
      Path folder = Objects.requireNonNullElse(file.toAbsolutePath().getParent(), file);
      return Files.getFileStore(folder).getUsableSpace() < LEAST_ROOM_BYTES;
    } catch (IOException unknown) {
      return false;
    }
  }

  /** What SQLite says of damage in several lines, as a part of a sentence. */
  static String oneLine(String said) {
    return said.strip().replaceAll("\\s+", " ");
  }

  /** Why, and what to do: the second half of a sentence. */
  static String why(SQLException failed, Path file) {
    int code = primaryCode(failed);
    return switch (code == IOERR && isFull(file) ? FULL : code) {
      case FULL -> "the disk is full; make room on it and start again";
      case READONLY -> "it is read-only; make file and folder writable, or name another ledger";
      case BUSY, LOCKED -> "another program holds it; close that one and start again";
      case IOERR -> "the disk reports an error; check the disk, prove the ledger, start again";
      case CORRUPT ->
          "the file is damaged; set it aside and begin a new one with: lodestep set-aside"
              + " --ledger \""
              + file
              + "\"";
      case CANTOPEN ->
          "no file is or can be made there; check path and rights, and that the disk is writable";
      case CONSTRAINT -> "something else has written to it; close that program and prove it";
      case NOTADB -> "the file is no ledger; name another file";
      default -> failed.getMessage() + "; check the disk and start again";
    };
  }
}
