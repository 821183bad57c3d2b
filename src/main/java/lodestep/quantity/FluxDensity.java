package lodestep.quantity;

import java.util.List;
import java.util.Locale;

/**
 * Magnetic flux density along the gauge's axis; positive where the face read is a north pole.
 *
 * @param tesla value in tesla; finite, |value| &le; {@value #LIMIT_TESLA}
 */
public record FluxDensity(double tesla) implements Comparable<FluxDensity> {

  /** More than any magnet or coil of such a rig produces at a gauge, with margin. */
  public static final double LIMIT_TESLA = 10.0;

  private static final Written WRITTEN =
      new Written(
          "flux density",
          "430 G",
          List.of(
              new Written.Unit("G", 1e-4),
              new Written.Unit("kG", 0.1),
              new Written.Unit("mT", 1e-3),
              new Written.Unit("T", 1.0),
              new Written.Unit("uT", 1e-6),
              new Written.Unit("µT", 1e-6)));

  /**
   * @throws IllegalArgumentException if the value is not a number, infinite or outside its range
   */
  public FluxDensity {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(Math.abs(tesla) <= LIMIT_TESLA)) {
      throw new IllegalArgumentException("flux density out of range: " + tesla + " tesla");
    }
  }

  /**
   * Reads a value as a person writes it, for example {@code 430 G}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  public static FluxDensity parse(String text) {
    return WRITTEN.read(text, FluxDensity::new);
  }

  @Override
  public int compareTo(FluxDensity other) {
    return Double.compare(tesla, other.tesla);
  }

  private static final double TESLA_PER_GAUSS = 1e-4;

  /** Flux density from gauss (1 G = 0.1 mT). */
  public static FluxDensity ofGauss(double gauss) {
    return new FluxDensity(gauss * TESLA_PER_GAUSS);
  }

  /** Flux density from microtesla, the unit of the records. */
  public static FluxDensity ofMicroTesla(long microTesla) {
    return new FluxDensity(microTesla * 1e-6);
  }

  /** Value in gauss. */
  public double gauss() {
    return tesla / TESLA_PER_GAUSS;
  }

  /** Value in whole microtesla, the unit of the records. */
  public long microTesla() {
    return Math.round(tesla * 1e6);
  }

  /** The size without the sign. */
  public FluxDensity magnitude() {
    return new FluxDensity(Math.abs(tesla));
  }

  /** In gauss to a tenth, signed, for people: {@code 431.2 G}. */
  public String inGauss() {
    return String.format(Locale.ROOT, "%.1f G", unsignedZero(gauss(), 10));
  }

  /** In millitesla to a hundredth, signed, for people: {@code 43.12 mT}. */
  public String inMilliTesla() {
    return String.format(Locale.ROOT, "%.2f mT", unsignedZero(tesla * 1e3, 100));
  }

  /** What rounds to nothing is written without a sign: nobody reads "-0.0 G" rightly. */
  private static double unsignedZero(double value, double perUnit) {
    return Math.round(value * perUnit) == 0 ? 0.0 : value;
  }
}
