package lodestep.ledger;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.List;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.Hash;
import lodestep.port.StoredEvent;

/**
 * The hash chain: hash(n) = SHA-256(hash(n &minus; 1) followed by the canonical bytes of event n),
 * and hash(0) is {@value Hash#SIZE_BYTES} zero bytes. SHA-256 as in FIPS 180-4.
 */
public final class Chain {

  private Chain() {}

  /** The event that follows the end of a chain, numbered, encoded and chained. */
  public static StoredEvent link(ChainEnd end, EventDraft draft) {
    long number = end.number() + 1;
    Bytes payload = EventCodec.encode(number, draft);
    return new StoredEvent(
        EventCodec.index(number, draft.event(), draft.wall()), payload, next(end.hash(), payload));
  }

  /** These events, in this order, each linked to the one before it; the first follows the end. */
  public static List<StoredEvent> link(ChainEnd end, List<EventDraft> drafts) {
    List<StoredEvent> events = new ArrayList<>(drafts.size());
    ChainEnd last = end;
    for (EventDraft draft : drafts) {
      StoredEvent event = link(last, draft);
      events.add(event);
      last = event.end();
    }
    return events;
  }

  /** The hash of an event with these bytes that follows an event with that hash. */
  public static Hash next(Hash previous, Bytes payload) {
    return sha256(previous.bytes(), payload);
  }

  /** SHA-256 (FIPS 180-4) of these bytes, one after the other. */
  public static Hash sha256(Bytes... parts) {
    MessageDigest digest = digest();
    for (Bytes part : parts) {
      part.feed(digest);
    }
    return new Hash(Bytes.copyOf(digest.digest()));
  }

  /** A new SHA-256. */
  static MessageDigest digest() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException missing) {
      throw new IllegalStateException("every Java platform has SHA-256", missing);
    }
  }
}
