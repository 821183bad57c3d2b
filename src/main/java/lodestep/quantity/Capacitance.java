package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Electrical capacitance.
 *
 * @param farads value in farads; finite, 0 &lt; value &le; {@value #LIMIT_FARADS}
 */
public record Capacitance(double farads) {

  /** Above any bank this rig allows; a larger figure is a slip of the pen. */
  public static final double LIMIT_FARADS = 100.0;

  private static final Written WRITTEN =
      new Written(
          "capacitance",
          "22 mF",
          List.of(
              new Written.Unit("mF", 1e-3),
              new Written.Unit("µF", 1e-6),
              new Written.Unit("uF", 1e-6),
              new Written.Unit("F", 1.0),
              new Written.Unit("nF", 1e-9),
              new Written.Unit("pF", 1e-12)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public Capacitance {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(farads > 0 && farads <= LIMIT_FARADS)) {
      throw new IllegalArgumentException("capacitance out of range: " + farads + " farads");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 22 mF}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static Capacitance parse(String text) {
    return WRITTEN.read(text, Capacitance::new);
  }

  /** With the prefix that suits its size, for people: {@code 22.0 mF}. */
  public String written() {
    return String.format(Locale.ROOT, farads >= 1e-3 ? "%.1f mF" : "%.3f mF", farads * 1e3);
  }
}
