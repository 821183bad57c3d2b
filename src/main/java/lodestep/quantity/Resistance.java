package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Electrical resistance.
 *
 * @param ohms value in ohms; finite, 0 &lt; value &le; {@value #LIMIT_OHMS}
 */
public record Resistance(double ohms) {

  /** Above any resistor of a bench rig, a bleeder of a tiny bank included. */
  public static final double LIMIT_OHMS = 1.0e7;

  private static final Written WRITTEN =
      new Written(
          "resistance",
          "2.2 kΩ",
          List.of(
              new Written.Unit("Ω", 1.0),
              new Written.Unit("kΩ", 1e3),
              new Written.Unit("mΩ", 1e-3),
              new Written.Unit("MΩ", 1e6),
              new Written.Unit("ohm", 1.0),
              new Written.Unit("kohm", 1e3),
              new Written.Unit("mohm", 1e-3)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public Resistance {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(ohms > 0 && ohms <= LIMIT_OHMS)) {
      throw new IllegalArgumentException("resistance out of range: " + ohms + " ohms");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 2.2 kΩ}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static Resistance parse(String text) {
    return WRITTEN.read(text, Resistance::new);
  }

  /** With the prefix that suits its size, for people: {@code 2.20 kΩ}. */
  public String written() {
    if (ohms >= 1e3) {
      return String.format(Locale.ROOT, "%.2f kΩ", ohms * 1e-3);
    }
    return String.format(Locale.ROOT, ohms >= 10 ? "%.1f Ω" : "%.2f Ω", ohms);
  }
}
