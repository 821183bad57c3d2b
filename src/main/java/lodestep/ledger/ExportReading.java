package lodestep.ledger;

import java.security.MessageDigest;
import java.util.Optional;
import java.util.function.BiConsumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import lodestep.port.LedgerEvent.LedgerCreated;
import lodestep.port.StoredEvent;

/**
 * Reads an export line by line and proves what can be proven of it; see {@link ExportWriting} for
 * its form and {@link ExportHead#proves} for how much that is. One thread.
 */
public final class ExportReading {

  private static final String HASH = "([0-9a-f]{64})";

  private static final Pattern EVENT =
      Pattern.compile(
          "\\{(?:\"before\":\"" + HASH + "\",)?\"hash\":\"" + HASH + "\",\"event\":(\\{.*\\})\\}",
          Pattern.DOTALL);

  private static final byte[] LINE_END = {'\n'};

  private final BiConsumer<ExportHead, StoredEvent> each;
  private final MessageDigest digest = Chain.digest();
  private Optional<ExportHead> head = Optional.empty();
  private ChainEnd last = ChainEnd.EMPTY;
  private Proof proof = Proof.after(ChainEnd.EMPTY);
  private boolean ended;
  private long lines;
  private long events;

  /**
   * @param each takes each event once it is proven, with the head
   */
  public ExportReading(BiConsumer<ExportHead, StoredEvent> each) {
    this.each = each;
  }

  /**
   * Takes the next line, without its end.
   *
   * @throws IllegalArgumentException if it is not as it was written, naming the line and the event
   */
  public void accept(Bytes line) {
    lines++;
    try {
      if (ended) {
        throw new IllegalArgumentException("something follows the end");
      }
      if (head.isEmpty()) {
        head = Optional.of(ExportHead.read(line));
      } else {
        Matcher parts = EVENT.matcher(line.utf8());
        if (parts.matches()) {
          event(head.get(), parts);
        } else {
          end(line);
        }
      }
    } catch (IllegalArgumentException wrong) {
      throw new IllegalArgumentException("line " + lines + ": " + wrong.getMessage(), wrong);
    }
    line.feed(digest);
    digest.update(LINE_END);
  }

  private void event(ExportHead of, Matcher parts) {
    Bytes payload = Bytes.ofUtf8(parts.group(3));
    Hash hash = Hash.ofHex(parts.group(2));
    LedgerEntry entry = EventCodec.decode(payload);
    Optional<Hash> told = Optional.ofNullable(parts.group(1)).map(Hash::ofHex);
    if (told.isPresent() && of.whole()) {
      throw new IllegalArgumentException("a whole ledger's event needs no 'before'");
    }
    if (entry.number() <= last.number()) {
      throw new IllegalArgumentException("event " + entry.number() + " stands out of order");
    }
    told.ifPresent(tell -> proof = Proof.after(new ChainEnd(entry.number() - 1, tell)));
    StoredEvent event = new StoredEvent(EventCodec.index(entry), payload, hash);
    proof.accept(event);
    proof
        .broken()
        .ifPresent(
            broken -> {
              throw new IllegalArgumentException("event " + broken.number() + ": " + broken.what());
            });
    boolean first = entry.number() == 1;
    if (events == 0
        && !(first && hash.equals(of.first()) && of.agrees((LedgerCreated) entry.event()))) {
      throw new IllegalArgumentException("event 1 is not the one that its head names");
    }
    if (entry.number() == of.end().number() && !hash.equals(of.end().hash())) {
      throw new IllegalArgumentException("the newest event is not the one that its head names");
    }
    last = event.end();
    events++;
    each.accept(of, event);
  }

  private void end(Bytes line) {
    String wanted = ExportWriting.endLine(events, digest.digest());
    if (!line.utf8().equals(wanted)) {
      throw new IllegalArgumentException(
          line.utf8().startsWith("{\"events\":")
              ? "the lines before it are not those that were written"
              : "it is no event as an export writes it");
    }
    ended = true;
  }

  /**
   * The head, once all lines were taken.
   *
   * @throws IllegalArgumentException if the end is missing
   */
  public ExportHead finished() {
    if (!ended) {
      throw new IllegalArgumentException(
          "it ends after line " + lines + " without an export's end; it was cut off");
    }
    ExportHead of = head.orElseThrow();
    if (of.whole() && !last.equals(of.end())) {
      throw new IllegalArgumentException(
          "event " + (last.number() + 1) + " is missing; its head says that there is more");
    }
    return of;
  }

  /** How many events were taken. */
  public long events() {
    return events;
  }
}
