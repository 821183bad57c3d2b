package lodestep.device;

/** The ends an act can have; after a crash there is also "unknown". */
public enum Outcome {
  /** Carried out, measured, as strong as expected. */
  DELIVERED("delivered"),
  /** It was released but next to nothing came of it. */
  MISFIRED("misfired"),
  /** It was never released. */
  NOT_FIRED("not fired"),
  /** It was released, and no report came or the report contradicts itself. */
  UNVERIFIED("unverified");

  private final String word;

  Outcome(String word) {
    this.word = word;
  }

  /** As it stands in the record. */
  public String word() {
    return word;
  }
}
