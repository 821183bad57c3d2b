package lodestep.config;

/** What charges magnets on a rig. */
public enum ChargeBy {
  /** The pulse coil. */
  COIL,
  /** A person, between jaws, when the program asks. */
  HAND;

  /** As it stands in rig.toml. */
  public String word() {
    return this == COIL ? "coil" : "hand";
  }
}
