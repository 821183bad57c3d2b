package lodestep.bench;

import java.util.Collection;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;

/** The known word a mistyped one was most likely meant to be. */
final class Nearest {

  private Nearest() {}

  /** Empty when nothing is near: more than a third of the letters, or over three, differ. */
  static Optional<String> to(String typed, Collection<String> known) {
    String plain = typed.toLowerCase(Locale.ROOT);
    int far = Math.min(3, Math.max(1, plain.length() / 3));
    return known.stream()
        .filter(word -> edits(plain, word.toLowerCase(Locale.ROOT)) <= far)
        .min(
            Comparator.comparingInt((String word) -> edits(plain, word.toLowerCase(Locale.ROOT)))
                .thenComparing(Comparator.naturalOrder()));
  }

  /** For the end of a sentence: {@code "; did you mean 'alloy'?"}, or nothing. */
  static String question(String typed, Collection<String> known) {
    return question(to(typed, known));
  }

  /** The same for a word found elsewhere. */
  static String question(Optional<String> nearest) {
    return nearest.map(word -> "; did you mean '" + word + "'?").orElse("");
  }

  /** Letters put in, left out or changed: the distance of V. I. Levenshtein (1966). */
  static int edits(String from, String to) {
    int[] above = new int[to.length() + 1];
    for (int j = 0; j <= to.length(); j++) {
      above[j] = j;
    }
    for (int i = 1; i <= from.length(); i++) {
      int[] row = new int[to.length() + 1];
      row[0] = i;
      for (int j = 1; j <= to.length(); j++) {
        int change = from.charAt(i - 1) == to.charAt(j - 1) ? 0 : 1;
        row[j] = Math.min(Math.min(row[j - 1], above[j]) + 1, above[j - 1] + change);
      }
      above = row;
    }
    return above[to.length()];
  }
}
