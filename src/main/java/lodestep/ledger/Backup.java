package lodestep.ledger;

import java.time.DateTimeException;
import java.time.Instant;
import java.util.SortedMap;
import java.util.TreeMap;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;

/**
 * What the note beside a backup says of it: one line of JSON in the canonical form of RFC 8785.
 * Kept apart from the copy, the note is also an outside anchor for the ledger itself. Any thread,
 * immutable.
 *
 * @param rig whose ledger it is, as in rig.toml; {@code rigKind} "real" or "virtual"
 * @param first hash of event 1, by which a ledger is known again under any name
 * @param end of the chain in the copy
 * @param sha256 of the copy's bytes, hexadecimal, and {@code size} how many
 * @param rigSha256 of the rig's description beside it, hexadecimal; empty if there is none
 * @param made when, by the wall clock
 * @param program version that made it
 */
public record Backup(
    String rig,
    String rigKind,
    Hash first,
    ChainEnd end,
    String sha256,
    long size,
    String rigSha256,
    Instant made,
    String program) {

  /** What stands in the note's member {@code form}. */
  public static final String FORM = "lodestep-backup-1";

  /** The names of the files in a backup's folder. */
  public static final String NOTE = "backup.json";

  /** The copy itself. */
  public static final String LEDGER = "copy.ledger";

  /** The rig's description. */
  public static final String RIG = "rig.toml";

  /** The note's text, with its line end. */
  public String text() {
    SortedMap<String, JsonValue> members = new TreeMap<>();
    members.put("form", new JsonValue.Text(FORM));
    members.put("rig", new JsonValue.Text(rig));
    members.put("rigKind", new JsonValue.Text(rigKind));
    members.put("firstHash", new JsonValue.Text(first.toString()));
    members.put("newestEvent", new JsonValue.Whole(end.number()));
    members.put("newestHash", new JsonValue.Text(end.hash().toString()));
    members.put("sha256", new JsonValue.Text(sha256));
    members.put("bytes", new JsonValue.Whole(size));
    members.put("rigSha256", new JsonValue.Text(rigSha256));
    members.put("made", new JsonValue.Text(made.toString()));
    members.put("program", new JsonValue.Text(program));
    return CanonicalJson.write(members).utf8() + "\n";
  }

  /**
   * Reads a note.
   *
   * @throws IllegalArgumentException if it is none, saying why
   */
  public static Backup read(String text) {
    SortedMap<String, JsonValue> members = CanonicalJson.read(Bytes.ofUtf8(text.strip()));
    if (!text(members, "form").equals(FORM)) {
      throw new IllegalArgumentException("it is no note of a backup, or a newer one's");
    }
    try {
      return new Backup(
          text(members, "rig"),
          text(members, "rigKind"),
          Hash.ofHex(text(members, "firstHash")),
          new ChainEnd(whole(members, "newestEvent"), Hash.ofHex(text(members, "newestHash"))),
          text(members, "sha256"),
          whole(members, "bytes"),
          text(members, "rigSha256"),
          Instant.parse(text(members, "made")),
          text(members, "program"));
    } catch (DateTimeException noTime) {
      throw new IllegalArgumentException("its 'made' is no time", noTime);
    }
  }

  static String text(SortedMap<String, JsonValue> members, String name) {
    if (members.get(name) instanceof JsonValue.Text text) {
      return text.value();
    }
    throw new IllegalArgumentException("it has no text '" + name + "'");
  }

  static long whole(SortedMap<String, JsonValue> members, String name) {
    if (members.get(name) instanceof JsonValue.Whole number) {
      return number.value();
    }
    throw new IllegalArgumentException("it has no number '" + name + "'");
  }
}
