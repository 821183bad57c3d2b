package lodestep.magnet;

import lodestep.quantity.Temperature;

/**
 * A length of round copper wire: its resistance, and what a pulse warms it by. Any thread,
 * immutable.
 *
 * <p>Resistance: R = ρ l (1 + α (θ − 20 °C)) / A with the figures of annealed copper of IEC 60028.
 * Warming: IEC 60949, with no heat lost in the pulse, which holds for milliseconds in wire thicker
 * than some hundredths of a millimetre: ∫ i² dt = A² K² ln((β + θ₂)/(β + θ₁)), K = 226 A √s/mm², β
 * = 234.5 °C; both from memory.
 *
 * @param diameterMetres of the bare copper, above zero
 * @param lengthMetres above zero
 */
public record CoilWire(double diameterMetres, double lengthMetres) {

  /** Of annealed copper at 20 °C, in ohm metres (IEC 60028: 1/58 Ω mm²/m). */
  static final double OHM_METRES = 1e-6 / 58;

  /** Per kelvin at 20 °C (IEC 60028). */
  private static final double PER_KELVIN = 3.93e-3;

  private static final double REFERENCE_DEG_C = 20;

  /** K of IEC 60949, in A √s/m². */
  private static final double HEATING = 226e6;

  /** β of IEC 60949, in °C. */
  private static final double BETA_DEG_C = 234.5;

  /** Of copper, in J/(K m³): σc of IEC 60949. */
  private static final double JOULES_PER_KELVIN_CUBIC_METRE = 3.45e6;

  /**
   * @throws IllegalArgumentException naming the size that is not above zero
   */
  public CoilWire {
    Sizes.requireAboveZero("a wire's diameter", diameterMetres);
    Sizes.requireAboveZero("a wire's length", lengthMetres);
  }

  /** Cross-section of the copper, in square metres. */
  public double areaSquareMetres() {
    return 0.25 * Math.PI * diameterMetres * diameterMetres;
  }

  /** Resistance in ohms at this temperature of the copper. */
  public double ohmsAt(Temperature copper) {
    double warmed = 1 + PER_KELVIN * (copper.degC() - REFERENCE_DEG_C);
    return OHM_METRES * lengthMetres / areaSquareMetres() * warmed;
  }

  /** What warms the copper by one kelvin, in joules. */
  public double heatJoulesPerKelvin() {
    return JOULES_PER_KELVIN_CUBIC_METRE * areaSquareMetres() * lengthMetres;
  }

  /**
   * Temperature of the copper after a pulse, before any of the heat has left it.
   *
   * @param actionAmpsSquaredSeconds ∫ i² dt of the pulse, &ge; 0
   * @throws IllegalArgumentException if it is negative or no number, or melts any metal
   */
  public Temperature after(Temperature before, double actionAmpsSquaredSeconds) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(actionAmpsSquaredSeconds >= 0)) {
      throw new IllegalArgumentException(
          "an action integral is 0 or more: " + actionAmpsSquaredSeconds + " A2s");
    }
    double growth = Math.exp(actionAmpsSquaredSeconds / square(HEATING * areaSquareMetres()));
    return Temperature.ofDegC((BETA_DEG_C + before.degC()) * growth - BETA_DEG_C);
  }

  /**
   * The action integral that warms the copper from one temperature to another, in ampere squared
   * seconds; negative if the second is the lower.
   */
  public double actionAmpsSquaredSeconds(Temperature from, Temperature to) {
    double ratio = (BETA_DEG_C + to.degC()) / (BETA_DEG_C + from.degC());
    return square(HEATING * areaSquareMetres()) * Math.log(ratio);
  }

  private static double square(double value) {
    return value * value;
  }
}
