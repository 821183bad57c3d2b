package lodestep.dial;

/** What a pulse is for. */
public enum Purpose {
  /** Full charge in the direction of the order. */
  CHARGE("charge"),
  /** A reverse pulse that lowers the level. */
  KNOCK_DOWN("knock down"),
  /** One of the alternating, falling pulses that take a magnet to nothing. */
  DEMAGNETISE("demagnetise"),
  /** A weaker reverse pulse that must not move the level. */
  PROOF("proof");

  private final String word;

  Purpose(String word) {
    this.word = word;
  }

  /** As it stands in the record. */
  public String word() {
    return word;
  }
}
