package lodestep.sim;

import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;

/**
 * Bank, switch, series resistor, freewheel diode and coil.
 *
 * <p>With no coil current the bank alone moves, by an exact exponential towards the voltage its
 * supply and bleeders agree on. With current, the discharge is solved in exact sub-steps of {@link
 * #SUBSTEP_SECONDS} ({@link Rlc}); the bank's slow paths are applied once a millisecond, which
 * neglects terms of the order of a millisecond over 40 s.
 *
 * <p>Without a bank nothing ever flows. Confined to its plant.
 */
final class PulseCircuit extends PowerCircuit {

  /**
   * The dielectric takes up and gives back in tens of seconds; IEC 60384-1 charges for an hour and
   * looks after fifteen minutes (from memory). Starting value.
   */
  private static final double ABSORBS_SECONDS = 10;

  private static final double ABSORBS_PER_STEP = -Math.expm1(-1e-3 / ABSORBS_SECONDS);

  private final BankConfig bank;
  private final boolean there;
  private final BankPaths paths;
  private double bankVolts;

  /** Of what the dielectric has taken up. */
  private double absorbedVolts;

  PulseCircuit(BankConfig bank, CoilConfig coil, FaultState faults) {
    super(coil, faults);
    this.bank = bank;
    this.there = !bank.equals(BankConfig.NONE);
    this.paths = new BankPaths(bank, faults);
  }

  @Override
  void faultsChanged() {
    paths.forget();
  }

  /** Moves charge into the bank at once: a start for tests. */
  void precharge(double volts) {
    bankVolts = volts;
  }

  @Override
  boolean canStart(Switching switching) {
    return bankVolts > DEAD_VOLTS;
  }

  @Override
  boolean fed(Switching switching) {
    return true;
  }

  @Override
  boolean takesUpAgain() {
    // The wires have swung below the diode's drop: what is left in the bank drives nothing.
    return false;
  }

  @Override
  void drive(Switching switching, CoilConfig coil) {
    double seriesOhms = switching.full ? 0.0 : coil.seriesOhms();
    double farads = bank.capacitanceFarads() * faults.capacitanceFactor;
    Rlc loop = new Rlc(coilOhms + seriesOhms, henries, farads);
    Rlc.Transition transition = loop.over(SUBSTEP_SECONDS);
    for (int left = SUBSTEPS; left > 0; left--) {
      double volts = bankVolts;
      double before = amps;
      double slopeBefore = (volts - loop.ohms() * before) / henries;
      amps = transition.current(before, volts);
      bankVolts = transition.voltage(before, volts);
      note(before, slopeBefore, (bankVolts - loop.ohms() * amps) / henries);
      if (dead(bankVolts)) {
        end();
        return;
      }
      if (!faults.diodeMissing && bankVolts - seriesOhms * amps <= -DIODE_VOLTS) {
        path = Path.FREEWHEEL;
        freewheel(left - 1);
        return;
      }
    }
  }

  @Override
  void feed(Switching switching) {
    if (!there) {
      return;
    }
    bankVolts = paths.after(bankVolts, switching);
    if (faults.bankReturns > 0) {
      double given = (absorbedVolts - bankVolts) * ABSORBS_PER_STEP;
      absorbedVolts -= given;
      bankVolts += faults.bankReturns * given;
    }
  }

  @Override
  double bankVolts() {
    return bankVolts;
  }
}
