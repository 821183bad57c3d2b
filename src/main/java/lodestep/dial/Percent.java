package lodestep.dial;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Parts of a hundred, as a person writes them. */
public final class Percent {

  /** More digits than anyone means; keeps binary dust out of what is shown. */
  private static final MathContext DIGITS = new MathContext(6);

  private static final Pattern WRITTEN =
      Pattern.compile("([+-]?(?:\\d{1,9}\\.?\\d{0,9}|\\.\\d{1,9}))\\s*(?:%|per ?cent)");

  private Percent() {}

  /** The fraction meant by {@code 12 %} or {@code 12 per cent}; empty if it is no percentage. */
  public static Optional<Double> fraction(String text) {
    Matcher matcher = WRITTEN.matcher(text.replace('\u2212', '-'));
    return matcher.matches()
        ? Optional.of(Double.parseDouble(matcher.group(1)) / 100)
        : Optional.empty();
  }

  /** A fraction in whole parts per million, the unit of the records. */
  public static long partsPerMillion(double fraction) {
    return Math.round(fraction * 1e6);
  }

  /** A fraction as {@code 12 %} or {@code 2.5 %}. */
  public static String words(double fraction) {
    BigDecimal percent = new BigDecimal(fraction * 100).round(DIGITS).stripTrailingZeros();
    return percent.toPlainString() + " %";
  }
}
