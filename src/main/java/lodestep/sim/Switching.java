package lodestep.sim;

/** How the power circuit is switched in this millisecond. Confined to its plant. */
final class Switching {
  /** Supply connected to the bank. */
  boolean fill;

  /** Bleed contact closed. */
  boolean bleed;

  /** Solid-state switch conducting. */
  boolean fire;

  /** Series resistor bridged. */
  boolean full;

  /** Supply connected to a switched coil's feed. */
  boolean feed;

  /** Relays of the ladder that are closed, that of the smallest step in the lowest bit. */
  int level;

  /** 1: the coil drives the gauge's face north; -1: the other way; 0: changeover between. */
  int direction = 1;
}
