package lodestep.config;

import lodestep.quantity.Temperature;

/**
 * A pulse coil with its leads, switch and series resistor.
 *
 * @param resistanceOhms coil, leads and switch at 20 °C, &gt; 0
 * @param inductanceHenries &gt; 0
 * @param fieldPerAmp field strength at the work in A/m for one ampere, averaged over the work, &gt;
 *     0
 * @param seriesOhms series resistor of the knock-down range; 0 where a supply's ladder stands there
 * @param heatJoulesPerKelvin heat capacity of the winding, &gt; 0
 * @param coolingKelvinPerWatt rise above the room for one watt of steady heat, &gt; 0
 * @param temperatureMax above this nothing is filled or fired
 */
public record CoilConfig(
    String name,
    double resistanceOhms,
    double inductanceHenries,
    double fieldPerAmp,
    double seriesOhms,
    double heatJoulesPerKelvin,
    double coolingKelvinPerWatt,
    Temperature temperatureMax) {

  /** Resistance of copper rises by this part of its value at 20 °C for each kelvin (IEC 60028). */
  private static final double COPPER_PER_KELVIN = 3.93e-3;

  private static final double REFERENCE_DEG_C = 20.0;

  /** Resistance of coil, leads and switch at this temperature of the winding, in ohms. */
  public double ohmsAt(Temperature winding) {
    return resistanceOhms * (1 + COPPER_PER_KELVIN * (winding.degC() - REFERENCE_DEG_C));
  }
}
