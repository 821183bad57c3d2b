package lodestep.voice;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** What can be said of a pickup, each by the word that a person asks for it. */
public enum Said {
  /** Of the magnet. */
  ALLOY(""),
  /** Of the magnet. */
  SHAPE("rod"),
  /** Of the magnet. */
  SIZE(""),
  /** At which levels are read; empty for that of the rig's nest. */
  STAND_OFF(""),
  /** Pole pieces of soft steel; empty for none. */
  POLES(""),
  /** Where the bar lies between them. */
  ARRANGED("between two rows"),
  /** A steel bar that the poles go through; empty for none. */
  KEEPER(""),
  /** Which pole each rod shows the strings, as they are written: one word, or one for each. */
  POLES_UP("north"),
  /** From string to string at the pickup. */
  PITCH("10.2 mm"),
  /** From the pole's face to the middle of a string. */
  DISTANCE("2.8 mm"),
  /** Length that vibrates. */
  SCALE("640 mm"),
  /** Where the pole stands. */
  FROM_BRIDGE("150 mm"),
  /** Diameters and notes. */
  STRINGS(StringSet.USUAL),
  /** Of the coil. */
  INDUCTANCE(""),
  /** Of the coil, if no inductance. */
  TURNS(""),
  /** The copper, height x depth. */
  WINDING(""),
  /** The round cores in it. */
  CORES(""),
  /** What they are made of. */
  CORES_OF("soft steel"),
  /** How many cores. */
  COUNT("6"),
  /** Of the coil. */
  RESISTANCE(""),
  /** Of coil and cable together. */
  CAPACITANCE(""),
  /** Potentiometers and amplifier together. */
  LOAD("");

  private final String usual;

  Said(String usual) {
    this.usual = usual;
  }

  /** What stands for it when nothing is said; empty where it has to be said, or may be left out. */
  public String usual() {
    return usual;
  }

  /** Its word: that of the option, and of the field on the page. */
  public String word() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** The one of this word. */
  public static Optional<Said> of(String word) {
    return Arrays.stream(values()).filter(each -> each.word().equals(word)).findFirst();
  }
}
