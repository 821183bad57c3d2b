package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Energy, for example that stored in the bank.
 *
 * @param joules value in joules; finite, 0 &le; value &le; {@value #LIMIT_JOULES}
 */
public record Energy(double joules) implements Comparable<Energy> {

  /** Far above the bank's 60 J; a larger figure is a slip of the pen. */
  public static final double LIMIT_JOULES = 1.0e6;

  private static final Written WRITTEN =
      new Written(
          "energy", "27 J", List.of(new Written.Unit("J", 1.0), new Written.Unit("mJ", 1e-3)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public Energy {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(joules >= 0 && joules <= LIMIT_JOULES)) {
      throw new IllegalArgumentException("energy out of range: " + joules + " joules");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 27 J}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static Energy parse(String text) {
    return WRITTEN.read(text, Energy::new);
  }

  @Override
  public int compareTo(Energy other) {
    return Double.compare(joules, other.joules);
  }

  /** Energy that a capacitor holds: E = C V&sup2; / 2. Capacitance in farads, &ge; 0. */
  public static Energy inCapacitor(double capacitanceFarads, Voltage voltage) {
    return new Energy(0.5 * capacitanceFarads * voltage.volts() * voltage.volts());
  }

  /** In joules to a tenth, for people: {@code 27.5 J}. */
  public String written() {
    return String.format(Locale.ROOT, "%.1f J", joules);
  }
}
