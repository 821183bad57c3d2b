package lodestep.dial;

/** How a magnet's attempt ended. */
public enum Verdict {
  /** Inside the guard-banded tolerance, and the proof pulse did not move it. */
  ACCEPTED("accepted"),
  /** It cannot be brought there. */
  REFUSED("refused"),
  /** It fell below and only a new charge, which was not allowed or did not help, brings it back. */
  RECHARGE_NEEDED("recharge needed"),
  /** Cut short; the magnet is open and begins again with a charge. */
  TRIPPED("tripped");

  private final String word;

  Verdict(String word) {
    this.word = word;
  }

  /** As it stands in the record. */
  public String word() {
    return word;
  }
}
