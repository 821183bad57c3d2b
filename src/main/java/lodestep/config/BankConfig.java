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
 * @param newSince the day on which the present capacitors were put in, as year-month-day (ISO
 *     8601); empty when nobody has said
 */
public record BankConfig(
    double capacitanceFarads,
    Voltage voltageMax,
    Voltage supplyVoltage,
    double fillOhms,
    double bleederOhms,
    double bleedOhms,
    String newSince) {

  /** Highest bank voltage of any rig: below the limit at which touching it is a shock hazard. */
  public static final double VOLTS_CAP = 50.0;

  /** Highest bank energy of any rig in joules. */
  public static final double JOULES_CAP = 60.0;

  /** No bank: of a rig that is a head alone, where magnets are charged and knocked down by hand. */
  public static final BankConfig NONE = new BankConfig(0, new Voltage(0), new Voltage(0), 0, 0, 0);

  /** A bank of which nobody has said since when it is new. */
  public BankConfig(
      double capacitanceFarads,
      Voltage voltageMax,
      Voltage supplyVoltage,
      double fillOhms,
      double bleederOhms,
      double bleedOhms) {
    this(capacitanceFarads, voltageMax, supplyVoltage, fillOhms, bleederOhms, bleedOhms, "");
  }

  /** Energy in the bank at its highest voltage. */
  public Energy energyMax() {
    return Energy.inCapacitor(capacitanceFarads, voltageMax);
  }

  /**
   * What the fill supply can bring the bank to. The bleeder stays connected while filling, so the
   * two resistors divide the supply's voltage: V = supply &times; bleeder / (bleeder + fill).
   */
  public Voltage reachedVoltage() {
    return new Voltage(supplyVoltage.volts() * bleederOhms / (bleederOhms + fillOhms));
  }

  /**
   * Seconds in which the bleed contact brings the bank from its highest voltage to this one: t = R
   * C ln(V<sub>highest</sub> / V). The bleeder's help is left out, so the truth is a little less.
   * Zero for a voltage at or above the highest.
   */
  public double bleedSeconds(Voltage to) {
    double ratio = voltageMax.volts() / to.volts();
    return ratio <= 1 ? 0 : bleedOhms * capacitanceFarads * Math.log(ratio);
  }
}
