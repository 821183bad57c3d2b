package lodestep.bench;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/**
 * What another gauge reads, as a person typed it. Any thread, immutable.
 *
 * @param value signed as far as the person said the pole
 * @param pole "north" or "south"; empty if the person did not say it
 * @param gauge what the person calls the other gauge
 * @param typed the reading, letter by letter
 */
public record TypedReading(FluxDensity value, String pole, String gauge, String typed) {

  private static final int GAUGE_CHARACTERS_MAX = 40;

  private static final Pattern FORM =
      Pattern.compile("(?i)(.+?)(?:\\s+(north|south))?(?:\\s+by\\s+(.+))?");

  /**
   * Reads {@code 380 G}, {@code 38 mT south} or {@code 380 G by shelf gauge}.
   *
   * @param usualGauge the gauge meant when the text names none; may be empty
   * @throws IllegalArgumentException with one sentence that says what is wrong and what to write
   */
  public static TypedReading read(String text, String usualGauge) {
    Matcher form = FORM.matcher(text.strip());
    if (!form.matches()) {
      throw new IllegalArgumentException("no reading; write it like 380 G south by shelf gauge");
    }
    FluxDensity value = FluxDensity.parse(form.group(1));
    String typed = text.strip().replaceFirst("(?i)\\s+by\\s+.*$", "");
    String pole = form.group(2) == null ? "" : form.group(2).toLowerCase(Locale.ROOT);
    boolean signed = form.group(1).matches("[-+\u2212].*");
    if (signed && !pole.isEmpty()) {
      throw new IllegalArgumentException(
          "'" + text + "' has a sign and a pole; write one of the two");
    }
    String gauge = form.group(3) == null ? usualGauge.strip() : form.group(3);
    if (gauge.isEmpty() || gauge.length() > GAUGE_CHARACTERS_MAX) {
      throw new IllegalArgumentException(
          "whose reading is '"
              + text
              + "'? Name the gauge in 1 to "
              + GAUGE_CHARACTERS_MAX
              + " letters: 380 G by shelf gauge");
    }
    if (signed) {
      String said = value.tesla() < 0 ? "south" : "north";
      return new TypedReading(value, said, gauge, typed);
    }
    FluxDensity signedValue =
        pole.equals("south") ? new FluxDensity(-value.magnitude().tesla()) : value;
    return new TypedReading(signedValue, pole, gauge, typed);
  }

  /** Its entry in the record. */
  public LedgerEvent entry(long magnet) {
    return new LedgerEvent.ReadingTyped(magnet, value.microTesla(), pole, gauge, typed);
  }
}
