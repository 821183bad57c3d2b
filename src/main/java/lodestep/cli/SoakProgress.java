package lodestep.cli;

import java.util.List;
import java.util.Locale;

/** Says how far a soak is: a line kept up to date, or one a minute where nobody watches. */
final class SoakProgress implements SoakWork.SoakWatcher {

  private static final double EVERY_SECONDS = 60;
  private static final double KEPT_EVERY_SECONDS = 0.5;

  private final Screen screen;
  private double nextSeconds;

  SoakProgress(Screen screen) {
    this.screen = screen;
    this.nextSeconds = screen.terminal() ? 0 : EVERY_SECONDS;
  }

  @Override
  public void done(long seed, double rigSeconds, double wallSeconds, int broken) {
    if (wallSeconds < nextSeconds) {
      return;
    }
    String line =
        String.format(
            Locale.ROOT,
            "to seed %d: %.1f rig hours in %.0f s, %.2f rig years an hour, %s broken",
            seed,
            rigSeconds / 3600,
            wallSeconds,
            SoakTable.yearsAnHour(rigSeconds, wallSeconds),
            broken == 0 ? "no rule" : broken + (broken == 1 ? " rule" : " rules"));
    if (screen.terminal()) {
      screen.keep(line);
      nextSeconds = wallSeconds + KEPT_EVERY_SECONDS;
    } else {
      screen.stay(line);
      nextSeconds = wallSeconds + EVERY_SECONDS;
    }
  }

  @Override
  public void broken(List<String> lines) {
    lines.forEach(screen::stay);
  }

  void end() {
    screen.end();
  }
}
