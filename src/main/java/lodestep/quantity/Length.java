package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * A length or a position.
 *
 * @param metres value in metres; finite, |value| &le; {@value #LIMIT_METRES}
 */
public record Length(double metres) implements Comparable<Length> {

  /** Longer than any part of a bench rig. */
  public static final double LIMIT_METRES = 10.0;

  private static final Written WRITTEN =
      new Written(
          "length",
          "5.1 mm",
          List.of(
              new Written.Unit("mm", 1e-3),
              new Written.Unit("in", 0.0254),
              new Written.Unit("\"", 0.0254),
              new Written.Unit("mil", 25.4e-6),
              new Written.Unit("um", 1e-6),
              new Written.Unit("µm", 1e-6),
              new Written.Unit("cm", 1e-2),
              new Written.Unit("m", 1.0)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public Length {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(Math.abs(metres) <= LIMIT_METRES)) {
      throw new IllegalArgumentException("length out of range: " + metres + " metres");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 5.1 mm}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static Length parse(String text) {
    return WRITTEN.read(text, Length::new);
  }

  @Override
  public int compareTo(Length other) {
    return Double.compare(metres, other.metres);
  }

  /** Length from millimetres. */
  public static Length ofMm(double mm) {
    return new Length(mm * 1e-3);
  }

  /** Length from micrometres, the unit of the records. */
  public static Length ofMicroMetres(long microMetres) {
    return new Length(microMetres * 1e-6);
  }

  /** Value in millimetres. */
  public double mm() {
    return metres * 1e3;
  }

  /** Value in whole micrometres, the unit of the records. */
  public long microMetres() {
    return Math.round(metres * 1e6);
  }

  /** In millimetres to a hundredth, for people: {@code 5.10 mm}. */
  public String written() {
    return String.format(Locale.ROOT, "%.2f mm", mm());
  }
}
