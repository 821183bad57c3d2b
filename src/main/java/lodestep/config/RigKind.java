package lodestep.config;

/** Whether a rig, and so everything recorded of it, is real or virtual. */
public enum RigKind {
  /** Real wires, real magnets. */
  REAL,
  /** The built-in virtual rig. */
  VIRTUAL;

  /** As it stands in rig.toml and in records: "real" or "virtual". */
  public String word() {
    return this == REAL ? "real" : "virtual";
  }
}
