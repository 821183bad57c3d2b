package lodestep.voice;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import lodestep.quantity.Length;

/**
 * The strings of an instrument, as a person writes them. Pure.
 *
 * @param tuned in the order written
 */
public record StringSet(List<Tuned> tuned) {

  /** Sizes that many shops have; common practice, no source. */
  public static final String USUAL =
      "0.25 E4; 0.33 B3; 0.43 G3; 0.66/0.38 D3; 0.91/0.41 A2; 1.17/0.46 E2";

  private static final int STRINGS_MAX = 12;

  private static final Pattern ONE =
      Pattern.compile("([0-9.]{1,6})(?:\\s*/\\s*([0-9.]{1,6}))?\\s+([A-Ga-g])([#b]?)([0-8])");

  private static final Map<Character, Integer> STEPS =
      Map.of('C', 0, 'D', 2, 'E', 4, 'F', 5, 'G', 7, 'A', 9, 'B', 11);

  public StringSet {
    tuned = List.copyOf(tuned);
  }

  /** A string and the note it is tuned to, as written. */
  public record Tuned(String note, SteelString string) {}

  /**
   * Reads strings like {@link #USUAL}: diameter in millimetres, of a wound one over winding and
   * core, and the note in scientific pitch notation, A4 at 440 Hz (ISO 16).
   *
   * @param scale length that all of them have
   * @throws IllegalArgumentException with one sentence naming the string that is none
   */
  public static StringSet read(String text, Length scale) {
    List<Tuned> tuned = new ArrayList<>();
    for (String each : text.split(";", -1)) {
      Matcher matcher = ONE.matcher(each.strip());
      if (!matcher.matches()) {
        throw new IllegalArgumentException(
            "'" + each.strip() + "' is no string; write it like 0.25 E4, or wound 0.66/0.38 D3");
      }
      String note = matcher.group(3).toUpperCase(Locale.ROOT) + matcher.group(4) + matcher.group(5);
      try {
        tuned.add(new Tuned(note, string(matcher, scale)));
      } catch (IllegalArgumentException wrong) {
        throw new IllegalArgumentException(note + ": " + wrong.getMessage(), wrong);
      }
    }
    if (tuned.size() > STRINGS_MAX) {
      throw new IllegalArgumentException("more than " + STRINGS_MAX + " strings");
    }
    return new StringSet(tuned);
  }

  /** Where each stands among those written, the lowest note first. */
  public List<Integer> lowestFirst() {
    return IntStream.range(0, tuned.size())
        .boxed()
        .sorted(Comparator.comparingDouble(at -> tuned.get(at).string().hertz()))
        .toList();
  }

  private static SteelString string(Matcher matcher, Length scale) {
    double hertz = hertz(matcher);
    Length outside = millimetres(matcher.group(1));
    return matcher.group(2) == null
        ? SteelString.plain(outside, scale, hertz)
        : SteelString.wound(outside, millimetres(matcher.group(2)), scale, hertz);
  }

  /** Equal temperament from A4 at 440 Hz. */
  private static double hertz(Matcher matcher) {
    int step = STEPS.getOrDefault(Character.toUpperCase(matcher.group(3).charAt(0)), 0);
    step += matcher.group(4).equals("#") ? 1 : matcher.group(4).equals("b") ? -1 : 0;
    int fromA4 = step - 9 + 12 * (Integer.parseInt(matcher.group(5)) - 4);
    return 440 * Math.pow(2, fromA4 / 12.0);
  }

  private static Length millimetres(String digits) {
    return Length.parse(digits + " mm");
  }
}
