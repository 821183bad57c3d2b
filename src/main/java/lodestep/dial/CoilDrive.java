package lodestep.dial;

import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.device.Pulse;
import lodestep.magnet.PulseCircuit;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/** From a wanted peak field to the bank voltage that gives it, in either range, and back. */
public record CoilDrive(CoilConfig coil, BankConfig bank) {

  /** Resistance of copper rises by this part of its value at 20 °C for each kelvin (IEC 60028). */
  private static final double COPPER_PER_KELVIN = 3.93e-3;

  private static final double REFERENCE_DEG_C = 20.0;

  /** The measured voltage may stand above the asked one by this part, and at least 10 mV. */
  private static final double HIGHEST_FRACTION = 0.002;

  private static final double HIGHEST_VOLTS = 0.010;

  /** Below this the meter's millivolt is more than a thousandth. */
  private static final double METER_VOLTS = 0.5;

  /**
   * The shortest filling there is: relay drawn, one status line, relay let go. What it brings above
   * the asked voltage only the bleeder takes away, in half a minute and more.
   */
  private static final double SHORTEST_FILL_SECONDS = 0.030;

  /** The strongest field of the range with this coil temperature. */
  public FieldStrength fieldMax(boolean full, Temperature coilTemperature, RigMemory memory) {
    return new FieldStrength(
        bank.voltageMax().volts() * fieldPerVolt(full, coilTemperature, memory));
  }

  /** Whether a pulse of this field needs the charging range. */
  public boolean needsFull(FieldStrength field, Temperature coilTemperature, RigMemory memory) {
    return field.compareTo(fieldMax(false, coilTemperature, memory)) > 0;
  }

  /**
   * The pulse that gives this peak field, in the knock-down range if that reaches it.
   *
   * @param field &gt; 0; held to what the bank can give
   */
  public Pulse pulse(
      FieldStrength field, boolean drivesNorth, Temperature coilTemperature, RigMemory memory) {
    boolean full = needsFull(field, coilTemperature, memory);
    double volts = field.amperesPerMetre() / fieldPerVolt(full, coilTemperature, memory);
    double asked = Math.max(leastVolts(), Math.min(bank.voltageMax().volts(), volts));
    double highest = asked + Math.max(HIGHEST_VOLTS, asked * HIGHEST_FRACTION);
    return new Pulse(drivesNorth, full, new Voltage(asked), new Voltage(highest));
  }

  /**
   * The lowest voltage worth asking for. A weaker pulse is asked at this one; the fields in
   * question are a few hundredths of a coercivity and move nothing.
   */
  private double leastVolts() {
    double voltsPerSecond =
        bank.supplyVoltage().volts() / (bank.fillOhms() * bank.capacitanceFarads());
    return Math.max(METER_VOLTS, voltsPerSecond * SHORTEST_FILL_SECONDS);
  }

  /** Peak current expected of a pulse, in amperes. */
  public double expectedAmps(Pulse pulse, Temperature coilTemperature) {
    return pulse.asked().volts() * circuit(pulse.full(), coilTemperature).peakAmpsPerVolt();
  }

  /** The field at the work for a measured peak current. */
  public FieldStrength fieldOf(double peakAmps) {
    return new FieldStrength(peakAmps * coil.fieldPerAmp());
  }

  private double fieldPerVolt(boolean full, Temperature coilTemperature, RigMemory memory) {
    return circuit(full, coilTemperature).peakAmpsPerVolt()
        * memory.ratio(full)
        * coil.fieldPerAmp();
  }

  private PulseCircuit circuit(boolean full, Temperature coilTemperature) {
    double warm = 1 + COPPER_PER_KELVIN * (coilTemperature.degC() - REFERENCE_DEG_C);
    double ohms = coil.resistanceOhms() * warm + (full ? 0 : coil.seriesOhms());
    return new PulseCircuit(ohms, coil.inductanceHenries(), bank.capacitanceFarads());
  }
}
