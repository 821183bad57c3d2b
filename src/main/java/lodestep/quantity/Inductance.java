package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Electrical inductance.
 *
 * @param henries value in henries; finite, 0 &lt; value &le; {@value #LIMIT_HENRIES}
 */
public record Inductance(double henries) {

  /** Above any air-cored coil of a bench rig. */
  public static final double LIMIT_HENRIES = 100.0;

  private static final Written WRITTEN =
      new Written(
          "inductance",
          "0.25 mH",
          List.of(
              new Written.Unit("mH", 1e-3),
              new Written.Unit("µH", 1e-6),
              new Written.Unit("uH", 1e-6),
              new Written.Unit("H", 1.0)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public Inductance {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(henries > 0 && henries <= LIMIT_HENRIES)) {
      throw new IllegalArgumentException("inductance out of range: " + henries + " henries");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 0.25 mH}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static Inductance parse(String text) {
    return WRITTEN.read(text, Inductance::new);
  }

  /** With the prefix that suits its size, for people: {@code 0.250 mH}. */
  public String written() {
    return String.format(Locale.ROOT, "%.3f mH", henries * 1e3);
  }
}
