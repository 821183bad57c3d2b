package lodestep.soak;

/** What a rig must have for something to happen to it, or for a state to be met. */
enum Part {
  /** Nothing but what every rig has. */
  NONE,
  /** A bank. */
  BANK,
  /** A coil, whatever feeds it. */
  COIL,
  /** A supply with a ladder for a switched coil. */
  SUPPLY,
  /** A reverse jig. */
  JIG,
  /** A winder who charges between jaws. */
  JAWS,
  /**
   * A jig or a supply. What can happen to a rig with bank and coil alone is not added to: its seeds
   * stay the runs that they were, and the rig with coil and jig has all of it.
   */
  JIG_OR_SUPPLY
}
