package lodestep.cli;

import java.util.function.Function;

/**
 * Tells a live reading: on a terminal one line kept up to date, elsewhere a line a second; silence
 * at once. One thread.
 */
final class LiveReport implements HeadWork.LiveWatcher {

  private static final double EACH_SECONDS = 1;

  /** The times come in steps of a tenth of a second or less. */
  private static final double SLACK_SECONDS = 0.05;

  private final Screen screen;
  private final Function<HeadWork.Live, String> words;
  private final Screen sayings;
  private double dueSeconds = EACH_SECONDS;
  private boolean silent;

  /**
   * @param out takes the readings
   * @param sayings takes everything else; the same as {@code out} where it may be
   * @param words a reading in one line
   */
  LiveReport(Screen out, Screen sayings, Function<HeadWork.Live, String> words) {
    this.screen = out;
    this.sayings = sayings;
    this.words = words;
  }

  @Override
  public void live(HeadWork.Live live) {
    boolean changed = live.silence().isPresent() != silent;
    silent = live.silence().isPresent();
    if (screen.terminal()) {
      screen.keep(words.apply(live));
      return;
    }
    boolean due = live.seconds() >= dueSeconds - SLACK_SECONDS;
    if (changed || due) {
      screen.stay(words.apply(live));
    }
    if (due) {
      dueSeconds += EACH_SECONDS;
    }
  }

  @Override
  public void says(String sentence) {
    sayings.stay(sentence);
  }

  void end() {
    screen.end();
  }
}
