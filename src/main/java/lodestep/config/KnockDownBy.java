package lodestep.config;

/** What knocks magnets down on a rig. */
public enum KnockDownBy {
  /** The pulse coil, by reverse pulses. */
  COIL,
  /** The reverse jig, by strokes. */
  JIG;

  /** As it stands in rig.toml. */
  public String word() {
    return this == COIL ? "coil" : "jig";
  }
}
