package lodestep.dial;

/** How the next knock-down pulse is chosen. */
public enum PlannerMode {
  /** The largest pulse that is safe by what is expected of this magnet's curve. */
  CURVE("expected curve"),
  /** Equal small steps from nothing: slow and plain, for any magnet. */
  SMALL_STEPS("small steps");

  private final String word;

  PlannerMode(String word) {
    this.word = word;
  }

  /** As a person writes it and as it stands in records. */
  public String word() {
    return word;
  }
}
