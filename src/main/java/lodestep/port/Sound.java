package lodestep.port;

/** What a person with her eyes on the magnets is to hear of a reading. Any thread, immutable. */
public sealed interface Sound {

  /** Nothing to be heard. */
  record Silent() implements Sound {}

  /**
   * On the way to the band; the pitch rises with it.
   *
   * @param nearness 0 where the way begins, 1 at the band's near edge or at the word "stop"
   */
  record Rising(double nearness) implements Sound {
    /**
     * @throws IllegalArgumentException if it is outside 0 to 1, or not a number
     */
    public Rising {
      // Negated comparison on purpose: it also rejects NaN.
      if (!(nearness >= 0 && nearness <= 1)) {
        throw new IllegalArgumentException("nearness is 0 to 1: " + nearness);
      }
    }
  }

  /** The reading is inside the band. */
  record Inside() implements Sound {}

  /** Stop: the reading is past the band, or the opposing magnet has come near enough. */
  record Past() implements Sound {}
}
