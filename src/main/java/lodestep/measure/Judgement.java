package lodestep.measure;

/** Where a reading lies against a tolerance narrowed by its guard band. */
public enum Judgement {
  /** Inside: conforms with the stated confidence. */
  ACCEPT,
  /** Weaker than the target, or of the other sign: only a charge brings it back. */
  BELOW,
  /** Stronger than the target: it can be knocked down further. */
  ABOVE
}
