package lodestep.port;

/**
 * An event as it is stored. Any thread, immutable.
 *
 * @param payload the canonical bytes; the hash covers these and nothing made from them again
 * @param hash SHA-256 of the hash before it, followed by the payload
 */
public record StoredEvent(EventIndex index, Bytes payload, Hash hash) {

  /** The event's number, from 1. */
  public long number() {
    return index.number();
  }

  /** Where the chain ends with this event. */
  public ChainEnd end() {
    return new ChainEnd(index.number(), hash);
  }
}
