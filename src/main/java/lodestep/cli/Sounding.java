package lodestep.cli;

import java.util.Optional;
import lodestep.port.Sound;
import lodestep.port.Tone;

/**
 * The tone that was asked for, or the terminal's bell where there is no sound device. One thread.
 */
final class Sounding implements AutoCloseable {

  private final Screen screen;
  private final Beat beat = new Beat();
  private Optional<Tone> tone;
  private boolean bell;

  private Sounding(Screen screen, Optional<Tone> tone, boolean bell) {
    this.screen = screen;
    this.tone = tone;
    this.bell = bell;
  }

  /** With nothing to be heard. */
  static Sounding none(Screen screen) {
    return new Sounding(screen, Optional.empty(), false);
  }

  /**
   * Opens the tone, or says in one sentence that the bell stands in for it.
   *
   * @throws Refusal when there is neither
   */
  static Sounding open(HeadWork program, Screen screen) {
    return program
        .tone()
        .match(
            opened -> new Sounding(screen, Optional.of(opened), false),
            why -> {
              if (!screen.terminal()) {
                throw new Refusal(
                    "--tone: " + why + ", and the bell needs a terminal; leave --tone out here");
              }
              screen.stay(instead(why));
              return new Sounding(screen, Optional.empty(), true);
            });
  }

  private static String instead(String why) {
    return "No tone, as " + why + "; the terminal's bell quickens instead.";
  }

  /** What is to be heard from now on. */
  void sound(Sound sound, double seconds) {
    tone.ifPresent(sounding -> sounding.sound(sound));
    tone.flatMap(Tone::trouble).ifPresent(this::lost);
    if (bell && beat.due(seconds, sound)) {
      screen.bell();
    }
  }

  private void lost(String why) {
    screen.stay(
        screen.terminal() ? instead(why) : "No tone any more, as " + why + "; go by what is said.");
    close();
    bell = screen.terminal();
  }

  @Override
  public void close() {
    tone.ifPresent(Tone::close);
    tone = Optional.empty();
  }
}
