package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * How long something takes or is let rest.
 *
 * @param seconds value in seconds; 0 to {@value #LIMIT_SECONDS}
 */
public record TimeSpan(double seconds) implements Comparable<TimeSpan> {

  /** A hundred years, as long as anything is said of a magnet. */
  public static final double LIMIT_SECONDS = 100 * 365.25 * 86_400;

  private static final double MINUTE = 60;
  private static final double HOUR = 60 * MINUTE;
  private static final double DAY = 24 * HOUR;
  private static final double YEAR = 365.25 * DAY;

  private static final Written WRITTEN =
      new Written(
          "span of time",
          "10 min",
          List.of(
              new Written.Unit("s", 1),
              new Written.Unit("min", MINUTE),
              new Written.Unit("h", HOUR),
              new Written.Unit("d", DAY),
              new Written.Unit("day", DAY),
              new Written.Unit("days", DAY),
              new Written.Unit("week", 7 * DAY),
              new Written.Unit("weeks", 7 * DAY),
              new Written.Unit("month", YEAR / 12),
              new Written.Unit("months", YEAR / 12),
              new Written.Unit("year", YEAR),
              new Written.Unit("years", YEAR)));

  /**
   * @throws IllegalArgumentException if the value is not a number or outside its range
   */
  public TimeSpan {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(seconds >= 0 && seconds <= LIMIT_SECONDS)) {
      throw new IllegalArgumentException("span of time out of range: " + seconds + " s");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 10 min}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static TimeSpan parse(String text) {
    return WRITTEN.read(text, TimeSpan::new);
  }

  @Override
  public int compareTo(TimeSpan other) {
    return Double.compare(seconds, other.seconds);
  }

  /** For people, in the unit that makes a number of two or three digits: {@code 10 min}. */
  public String written() {
    if (seconds < 2 * MINUTE) {
      return said(seconds, "s");
    }
    if (seconds < 2 * HOUR) {
      return said(seconds / MINUTE, "min");
    }
    if (seconds < 2 * DAY) {
      return said(seconds / HOUR, "h");
    }
    return seconds < 2 * YEAR ? said(seconds / DAY, "days") : said(seconds / YEAR, "years");
  }

  private static String said(double number, String unit) {
    boolean whole = Math.abs(number - Math.rint(number)) < 0.05;
    return String.format(Locale.ROOT, whole ? "%.0f %s" : "%.1f %s", number, unit);
  }
}
