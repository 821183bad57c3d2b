package lodestep.config;

import lodestep.quantity.Energy;
import lodestep.quantity.Voltage;

/**
 * The capacitor bank. Voltage and energy caps are the design's: never above {@link #VOLTS_CAP} and
 * {@link #JOULES_CAP}.
 *
 * @param capacitanceFarads &gt; 0
 * @param voltageMax highest voltage asked of this bank, at most {@link #VOLTS_CAP}
 * @param supplyVoltage of the fill supply; at most {@link #VOLTS_CAP}
 * @param fillOhms resistance between supply and bank while filling, &gt; 0
 * @param bleederOhms permanent bleeder across the bank; time constant 30 to 60 s
 * @param bleedOhms resistance of the bleed contact's path, &gt; 0
 */
public record BankConfig(
    double capacitanceFarads,
    Voltage voltageMax,
    Voltage supplyVoltage,
    double fillOhms,
    double bleederOhms,
    double bleedOhms) {

  /** Highest bank voltage of any rig: below the limit at which touching it is a shock hazard. */
  public static final double VOLTS_CAP = 50.0;

  /** Highest bank energy of any rig in joules. */
  public static final double JOULES_CAP = 60.0;

  /** Energy in the bank at its highest voltage. */
  public Energy energyMax() {
    return Energy.inCapacitor(capacitanceFarads, voltageMax);
  }
}
