package lodestep.magnet;

/**
 * Where a figure comes from.
 *
 * @param text the publication, and how far it is trusted
 */
public record FigureSource(Kind kind, String text) {

  /** How a figure was come by. */
  public enum Kind {
    /** Read in the source named. */
    READ("read"),
    /** Remembered of the publication named, which was not at hand. */
    FROM_MEMORY("from memory"),
    COMMON_PRACTICE("common practice"),
    /** By whoever works at this rig. */
    MEASURED("measured");

    private final String words;

    Kind(String words) {
      this.words = words;
    }

    /** As the file of alloys writes it. */
    public String words() {
      return words;
    }
  }
}
