package lodestep.soak;

import java.util.Locale;

/**
 * A rule that was seen broken. Any thread, immutable.
 *
 * @param rule the law's number, "INV-07"
 * @param words what should have held
 * @param atMs when, in milliseconds since the rig was switched on
 * @param detail what was seen
 */
public record Violation(String rule, String words, long atMs, String detail) {

  /** Two lines for a person. */
  public String written() {
    return String.format(
        Locale.ROOT, "%s at %.3f s: %s%n  seen: %s", rule, atMs * 1e-3, words, detail);
  }
}
