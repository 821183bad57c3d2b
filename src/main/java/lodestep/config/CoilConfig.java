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
    Temperature temperatureMax) {}
