package lodestep.bench;

import java.text.Normalizer;
import java.util.List;
import java.util.regex.Pattern;

/** Text of a cell as a plan understands it. */
final class Cell {

  /** Spaces of every kind, line breaks too: spreadsheets put them where people see one space. */
  private static final Pattern SPACES = Pattern.compile("[\\s\\p{Z}]+");

  private static final Pattern UNPRINTABLE = Pattern.compile("\\p{C}");

  private Cell() {}

  /** One spelling of the same letters, single spaces, none around. */
  static String plain(String text) {
    String composed = Normalizer.normalize(text, Normalizer.Form.NFC);
    return SPACES.matcher(composed).replaceAll(" ").strip();
  }

  /** How many cells there are up to the last that is not blank. */
  static int widthOf(List<String> cells) {
    int width = cells.size();
    while (width > 0 && cells.get(width - 1).isBlank()) {
      width--;
    }
    return width;
  }

  /**
   * A name for labels and tables.
   *
   * @param what "name" or "set", for the message
   * @throws IllegalArgumentException if it is too long or holds what cannot be printed
   */
  static String label(String what, String text) {
    if (UNPRINTABLE.matcher(text).find()) {
      throw new IllegalArgumentException(
          "the " + what + " holds a character that cannot be printed; type it anew");
    }
    int characters = text.codePointCount(0, text.length());
    if (characters > PlanRow.NAME_CHARACTERS_MAX) {
      throw new IllegalArgumentException(
          "the "
              + what
              + " has "
              + characters
              + " characters; a label takes "
              + PlanRow.NAME_CHARACTERS_MAX);
    }
    return text;
  }
}
