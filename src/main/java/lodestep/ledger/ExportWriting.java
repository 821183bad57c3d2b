package lodestep.ledger;

import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Consumer;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.StoredEvent;

/**
 * Writes an export, a line of JSON each: the head, the events in rising order, and an end with a
 * SHA-256 of all the bytes before it, by which a cut file is known. The form of an event is
 *
 * <pre>
 * {"hash":HASH,"event":PAYLOAD}
 * {"before":HASH,"hash":HASH,"event":PAYLOAD}
 * </pre>
 *
 * with the payload letter by letter as the ledger holds it and the hash covers it; the second where
 * the event before it in the ledger is not the line before. Proves what it writes. One thread.
 */
public final class ExportWriting implements Consumer<StoredEvent> {

  private static final Bytes LINE_END = Bytes.ofUtf8("\n");

  private final Consumer<Bytes> out;
  private final MessageDigest digest = Chain.digest();
  private ChainEnd last = ChainEnd.EMPTY;
  private Proof proof = Proof.after(ChainEnd.EMPTY);
  private boolean told;
  private long events;

  /**
   * @param out takes the bytes in their order
   */
  public ExportWriting(ExportHead head, Consumer<Bytes> out) {
    this.out = out;
    line(Bytes.ofUtf8(head.line()));
  }

  /** The event that stands right before the next one handed over, when that is no part of it. */
  public void before(ChainEnd end) {
    last = end;
    proof = Proof.after(end);
    told = end.number() > 0;
  }

  /**
   * Writes an event.
   *
   * @throws IllegalArgumentException if it is not whole, naming it
   */
  @Override
  public void accept(StoredEvent event) {
    proof.accept(event);
    proof
        .broken()
        .ifPresent(
            broken -> {
              throw new IllegalArgumentException("event " + broken.number() + ": " + broken.what());
            });
    String before = told ? "\"before\":\"" + last.hash() + "\"," : "";
    line(
        Bytes.ofUtf8(
            "{"
                + before
                + "\"hash\":\""
                + event.hash()
                + "\",\"event\":"
                + event.payload().utf8()
                + "}"));
    last = event.end();
    told = false;
    events++;
  }

  /** Writes the end. */
  public void end() {
    out.accept(Bytes.ofUtf8(endLine(events, digest.digest()) + "\n"));
  }

  static String endLine(long events, byte[] digest) {
    SortedMap<String, JsonValue> members = new TreeMap<>();
    members.put("events", new JsonValue.Whole(events));
    members.put("sha256", new JsonValue.Text(HexFormat.of().formatHex(digest)));
    return CanonicalJson.write(members).utf8();
  }

  private void line(Bytes line) {
    for (Bytes part : new Bytes[] {line, LINE_END}) {
      part.feed(digest);
      out.accept(part);
    }
  }
}
