package lodestep.port;

/**
 * The ledger cannot be opened, read or written. The message is one sentence for a person: what,
 * where, what to do.
 */
public final class LedgerException extends RuntimeException {

  private final String sentence;

  /** A refusal of our own. */
  public LedgerException(String sentence) {
    super(sentence);
    this.sentence = sentence;
  }

  /** A failure of what is below. */
  public LedgerException(String sentence, Throwable cause) {
    super(sentence, cause);
    this.sentence = sentence;
  }

  /** The message: what, where, what to do. */
  public String sentence() {
    return sentence;
  }
}
