package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Thermodynamic temperature.
 *
 * @param kelvin value in kelvin; finite, 0 &le; value &le; {@value #LIMIT_KELVIN}
 */
public record Temperature(double kelvin) implements Comparable<Temperature> {

  /** Above the Curie point of any alnico (about 1130 K), so that no magnet figure is refused. */
  public static final double LIMIT_KELVIN = 2000.0;

  private static final double KELVIN_AT_ZERO_DEG_C = 273.15;

  private static final Written WRITTEN =
      new Written(
          "temperature",
          "21.5 °C",
          List.of(
              new Written.Unit("°C", 1.0),
              new Written.Unit("degC", 1.0),
              new Written.Unit("C", 1.0)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public Temperature {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(kelvin >= 0 && kelvin <= LIMIT_KELVIN)) {
      throw new IllegalArgumentException("temperature out of range: " + kelvin + " kelvin");
    }
  }

  /** Temperature from degrees Celsius, from -273.15 upwards. */
  public static Temperature ofDegC(double degC) {
    return new Temperature(degC + KELVIN_AT_ZERO_DEG_C);
  }

  /**
   * Reads a temperature in degrees Celsius as a person writes it, for example {@code 21.5 °C}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static Temperature parse(String text) {
    return WRITTEN.read(text, Temperature::ofDegC);
  }

  /** Degrees Celsius. */
  public double degC() {
    return kelvin - KELVIN_AT_ZERO_DEG_C;
  }

  @Override
  public int compareTo(Temperature other) {
    return Double.compare(kelvin, other.kelvin);
  }

  /** In degrees Celsius to a tenth, for people. */
  public String written() {
    return String.format(Locale.ROOT, "%.1f °C", degC());
  }
}
