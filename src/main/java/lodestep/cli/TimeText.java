package lodestep.cli;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Times as people write them after {@code --for}. */
final class TimeText {

  private static final Pattern TIME = Pattern.compile("(\\d{1,6}(?:\\.\\d{1,3})?)\\s*(s|min|h)?");

  private TimeText() {}

  /**
   * Seconds, &gt; 0.
   *
   * @throws Refusal if it is none
   */
  static double seconds(String text) {
    Matcher matcher = TIME.matcher(text.strip());
    double number = matcher.matches() ? Double.parseDouble(matcher.group(1)) : 0;
    if (!(number > 0)) {
      throw new Refusal("--for: '" + text + "' is no time; write it like 5s, 2min or 1h");
    }
    return "h".equals(matcher.group(2))
        ? 3600 * number
        : "min".equals(matcher.group(2)) ? 60 * number : number;
  }
}
