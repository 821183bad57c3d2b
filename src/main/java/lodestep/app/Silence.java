package lodestep.app;

import java.util.Locale;
import java.util.Optional;
import lodestep.port.LinkState;

/** Says at once when a head is silent. Pure. */
final class Silence {

  private static final double SECONDS_PER_NS = 1e-9;

  private Silence() {}

  /**
   * What is wrong with the line, in one sentence; empty while lines come.
   *
   * @param newestAtNs when the newest status line came; the start before the first
   * @param limitNs older than this is silence
   */
  static Optional<String> words(long newestAtNs, long nowNs, long limitNs, LinkState link) {
    if (!link.open()) {
      return Optional.of(link.words());
    }
    long ageNs = nowNs - newestAtNs;
    if (ageNs <= limitNs) {
      return Optional.empty();
    }
    return Optional.of(
        String.format(
            Locale.ROOT,
            "no line from the head for %.1f s; check its cable and supply",
            ageNs * SECONDS_PER_NS));
  }
}
