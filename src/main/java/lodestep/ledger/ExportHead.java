package lodestep.ledger;

import java.time.DateTimeException;
import java.time.Instant;
import java.util.SortedMap;
import java.util.TreeMap;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import lodestep.port.LedgerEvent.LedgerCreated;

/**
 * The first line of an export: what it is of. One line of JSON in the canonical form of RFC 8785.
 * Any thread, immutable.
 *
 * @param rig as in rig.toml; {@code rigKind} "real" or "virtual"
 * @param first hash of event 1 of the ledger
 * @param end of the ledger's chain when the export was made
 * @param magnet whose part it is; 0 of a whole ledger
 * @param name of that magnet; empty of a whole ledger
 * @param unbroken whether a part holds all events between its first and last but event 1
 * @param made when, by the wall clock
 * @param program version that made it
 */
public record ExportHead(
    String rig,
    String rigKind,
    Hash first,
    ChainEnd end,
    long magnet,
    String name,
    boolean unbroken,
    Instant made,
    String program) {

  /** What stands in its member {@code form}. */
  static final String FORM = "lodestep-export-1";

  private static final String VIRTUAL =
      "VIRTUAL: made on a virtual rig; no real magnet is spoken of";

  /** Whether it holds all events. */
  public boolean whole() {
    return magnet == 0;
  }

  /** Whether no real magnet is spoken of. */
  public boolean virtual() {
    return !rigKind.equals("real");
  }

  /** What can be proven of it, and what cannot, for a person. */
  public String proves() {
    if (whole()) {
      return "Each event follows from the one before it, from the first to the last: nothing"
          + " between them was changed, taken out or put in since the export was made. That the"
          + " ledger was so, and ends there, is proven by a number and hash noted elsewhere"
          + " alone.";
    }
    String between =
        unbroken
            ? "Between its first and last event, but for event 1, nothing is left out."
            : "Whether other events of this magnet were left out cannot be told from it.";
    return "Each event's bytes give its hash together with the hash before it. "
        + between
        + " That these hashes are the ledger's is proven by the ledger, a whole export or a"
        + " backup of it, or by the number and hash of one of these events noted elsewhere, on a"
        + " certificate for example.";
  }

  /** The line, without its end. */
  String line() {
    SortedMap<String, JsonValue> members = new TreeMap<>();
    members.put("form", new JsonValue.Text(FORM));
    members.put("what", new JsonValue.Text(whole() ? "whole ledger" : "one magnet"));
    members.put("rig", new JsonValue.Text(rig));
    members.put("rigKind", new JsonValue.Text(rigKind));
    members.put("virtual", new JsonValue.Text(virtual() ? VIRTUAL : ""));
    members.put("firstHash", new JsonValue.Text(first.toString()));
    members.put("newestEvent", new JsonValue.Whole(end.number()));
    members.put("newestHash", new JsonValue.Text(end.hash().toString()));
    members.put("magnet", new JsonValue.Whole(magnet));
    members.put("name", new JsonValue.Text(name));
    members.put("unbroken", new JsonValue.Truth(unbroken));
    members.put("made", new JsonValue.Text(made.toString()));
    members.put("program", new JsonValue.Text(program));
    members.put("proves", new JsonValue.Text(proves()));
    return CanonicalJson.write(members).utf8();
  }

  /**
   * Reads the line, without its end.
   *
   * @throws IllegalArgumentException if it is not exactly as an export has it
   */
  public static ExportHead read(Bytes line) {
    SortedMap<String, JsonValue> members = CanonicalJson.read(line);
    if (!Backup.text(members, "form").equals(FORM)) {
      throw new IllegalArgumentException("it is no export, or a newer program's");
    }
    try {
      ExportHead head =
          new ExportHead(
              Backup.text(members, "rig"),
              Backup.text(members, "rigKind"),
              Hash.ofHex(Backup.text(members, "firstHash")),
              new ChainEnd(
                  Backup.whole(members, "newestEvent"),
                  Hash.ofHex(Backup.text(members, "newestHash"))),
              Backup.whole(members, "magnet"),
              Backup.text(members, "name"),
              new JsonValue.Truth(true).equals(members.get("unbroken")),
              Instant.parse(Backup.text(members, "made")),
              Backup.text(members, "program"));
      if (!Bytes.ofUtf8(head.line()).equals(line)) {
        throw new IllegalArgumentException("its first line was changed");
      }
      return head;
    } catch (DateTimeException noTime) {
      throw new IllegalArgumentException("its 'made' is no time", noTime);
    }
  }

  /** Whether this is the first event of the ledger that it speaks of. */
  boolean agrees(LedgerCreated created) {
    return created.rig().equals(rig) && created.rigKind().equals(rigKind);
  }
}
