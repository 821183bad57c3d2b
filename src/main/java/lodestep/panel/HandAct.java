package lodestep.panel;

/** What hands do at a virtual rig, drawn on the page; on a real rig they do it at the bench. */
public enum HandAct {
  /** Opens the lid. */
  OPEN_LID,
  /** Closes the lid. */
  CLOSE_LID,
  /** Turns the arm key on. */
  KEY_ON,
  /** Turns the arm key off. */
  KEY_OFF,
  /** Presses the start pedal and lets it go. */
  PEDAL,
  /**
   * Puts the magnet that is next into the nest, charged between the jaws where that is asked; while
   * nothing is under way one that is drawn anew, to read it live.
   */
  PUT_IN,
  /** Takes out what is in the nest. */
  TAKE_OUT,
  /** Does what work by hand asks now, and says so; away again at the word "stop". */
  AS_ASKED
}
