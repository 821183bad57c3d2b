package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Magnetic field strength along the magnet's axis.
 *
 * @param amperesPerMetre value in amperesPerMetre; finite, |value| &le; {@value
 *     #LIMIT_AMPERESPERMETRE}
 */
public record FieldStrength(double amperesPerMetre) implements Comparable<FieldStrength> {

  /** Above the field that saturates any magnet this rig meets (neodymium, about 2.8 MA/m). */
  public static final double LIMIT_AMPERESPERMETRE = 5.0e6;

  private static final Written WRITTEN =
      new Written(
          "field strength",
          "48 kA/m",
          List.of(
              new Written.Unit("kA/m", 1e3),
              new Written.Unit("A/m", 1.0),
              new Written.Unit("Oe", 79.57747154594767),
              new Written.Unit("kOe", 79577.47154594767)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public FieldStrength {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(Math.abs(amperesPerMetre) <= LIMIT_AMPERESPERMETRE)) {
      throw new IllegalArgumentException(
          "field strength out of range: " + amperesPerMetre + " amperesPerMetre");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 48 kA/m}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static FieldStrength parse(String text) {
    return WRITTEN.read(text, FieldStrength::new);
  }

  @Override
  public int compareTo(FieldStrength other) {
    return Double.compare(amperesPerMetre, other.amperesPerMetre);
  }

  /** In kiloamperes per metre to a tenth, for people: {@code 48.0 kA/m}. */
  public String written() {
    return String.format(Locale.ROOT, "%.1f kA/m", amperesPerMetre * 1e-3);
  }
}
