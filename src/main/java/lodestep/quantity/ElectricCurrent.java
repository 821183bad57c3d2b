package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Electric current; positive drives the gauge's face north.
 *
 * @param amps value in amps; finite, |value| &le; {@value #LIMIT_AMPS}
 */
public record ElectricCurrent(double amps) implements Comparable<ElectricCurrent> {

  /** Above any pulse a 60 J bank can deliver. */
  public static final double LIMIT_AMPS = 10000.0;

  private static final Written WRITTEN =
      new Written(
          "current", "120 A", List.of(new Written.Unit("A", 1.0), new Written.Unit("mA", 1e-3)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public ElectricCurrent {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(Math.abs(amps) <= LIMIT_AMPS)) {
      throw new IllegalArgumentException("current out of range: " + amps + " amps");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 120 A}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static ElectricCurrent parse(String text) {
    return WRITTEN.read(text, ElectricCurrent::new);
  }

  @Override
  public int compareTo(ElectricCurrent other) {
    return Double.compare(amps, other.amps);
  }

  /** Current from milliamperes, the unit of the head's line and of the records. */
  public static ElectricCurrent ofMilliAmps(long milliAmps) {
    return new ElectricCurrent(milliAmps * 1e-3);
  }

  /** In amperes to a hundredth, for people: {@code 7.25 A}. */
  public String written() {
    return String.format(Locale.ROOT, "%.2f A", amps);
  }
}
