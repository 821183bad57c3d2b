package lodestep.sim;

import lodestep.config.BankConfig;

/**
 * The slow ways in and out of the bank: fill resistor, permanent bleeder, bleed contact, leak.
 *
 * <p>All are linear, so over a millisecond the voltage moves by an exact exponential towards the
 * voltage at which they balance; the two figures are worked out only when the switching changes.
 * Confined to its circuit.
 */
final class BankPaths {

  private static final double STEP_SECONDS = 1e-3;

  private final BankConfig bank;
  private final FaultState faults;
  private boolean known;
  private boolean fill;
  private boolean bleed;
  private double restVolts;
  private double keptFraction;

  BankPaths(BankConfig bank, FaultState faults) {
    this.bank = bank;
    this.faults = faults;
  }

  /** The figures are worked out anew at the next step. */
  void forget() {
    known = false;
  }

  /** The bank's voltage a millisecond later. */
  double after(double volts, Switching switching) {
    if (!known || switching.fill != fill || switching.bleed != bleed) {
      prepare(switching);
    }
    return restVolts + (volts - restVolts) * keptFraction;
  }

  private void prepare(Switching switching) {
    fill = switching.fill;
    bleed = switching.bleed;
    known = true;
    double siemens = 1.0 / bank.bleederOhms() + 1.0 / faults.bankLeakOhms;
    double inflowAmps = 0.0;
    if (bleed && !faults.bleedPathOpen) {
      siemens += 1.0 / bank.bleedOhms();
    }
    if (fill) {
      siemens += 1.0 / bank.fillOhms();
      inflowAmps = supplyVolts() / bank.fillOhms();
    }
    restVolts = inflowAmps / siemens;
    double farads = bank.capacitanceFarads() * faults.capacitanceFactor;
    keptFraction = Math.exp(-STEP_SECONDS * siemens / farads);
  }

  private double supplyVolts() {
    return Double.isNaN(faults.supplyVolts) ? bank.supplyVoltage().volts() : faults.supplyVolts;
  }
}
