package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Electric potential difference.
 *
 * @param volts value in volts; finite, |value| &le; {@value #LIMIT_VOLTS}
 */
public record Voltage(double volts) implements Comparable<Voltage> {

  /** Far above the bank's 50 V; a larger figure is a slip of the pen. */
  public static final double LIMIT_VOLTS = 1000.0;

  private static final Written WRITTEN =
      new Written(
          "voltage", "36.5 V", List.of(new Written.Unit("V", 1.0), new Written.Unit("mV", 1e-3)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public Voltage {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(Math.abs(volts) <= LIMIT_VOLTS)) {
      throw new IllegalArgumentException("voltage out of range: " + volts + " volts");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 36.5 V}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static Voltage parse(String text) {
    return WRITTEN.read(text, Voltage::new);
  }

  @Override
  public int compareTo(Voltage other) {
    return Double.compare(volts, other.volts);
  }

  /** Voltage from millivolts, the unit of the head's line and of the records. */
  public static Voltage ofMilliVolts(long milliVolts) {
    return new Voltage(milliVolts * 1e-3);
  }

  /** Value in whole millivolts. */
  public int milliVolts() {
    return (int) Math.round(volts * 1e3);
  }

  /** In volts to a hundredth, for people: {@code 36.50 V}. */
  public String written() {
    return String.format(Locale.ROOT, "%.2f V", volts);
  }
}
