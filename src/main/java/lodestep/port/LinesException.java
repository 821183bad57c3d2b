package lodestep.port;

/**
 * The board's lines cannot be had, or have failed. The message is one sentence for a person: what,
 * where, what to do.
 */
public final class LinesException extends RuntimeException {

  private static final long serialVersionUID = 1L;

  private final String sentence;

  /** A refusal of our own. */
  public LinesException(String sentence) {
    super(sentence);
    this.sentence = sentence;
  }

  /** A failure of what is below. */
  public LinesException(String sentence, Throwable cause) {
    super(sentence, cause);
    this.sentence = sentence;
  }

  /** The message: what, where, what to do. */
  public String sentence() {
    return sentence;
  }
}
