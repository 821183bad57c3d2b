package lodestep.device;

import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * What stays the same through one shot.
 *
 * @param order what it is for
 * @param pulse what is asked of the coil
 * @param intentNumber the ledger number of its intent
 * @param expectedPeakAmps peak current expected, &gt; 0; a tenth of it is the least that counts as
 *     delivered
 */
public record ShotPlan(
    Order order,
    Pulse pulse,
    long intentNumber,
    double expectedPeakAmps,
    CoilConfig coil,
    BankConfig bank,
    Limits limits) {

  private static final double MILLI = 1e3;

  /** The relays in this pulse's positions, nothing energised. */
  public Outputs relays() {
    return Outputs.ALL_LOW
        .with(OutputLine.COIL_REVERSE, !pulse.drivesNorth())
        .with(OutputLine.COIL_FULL, pulse.full());
  }

  /** Relays set and the bleed contact open. */
  Outputs holding() {
    return relays().and(OutputLine.BANK_HOLD);
  }

  /** Time constant of the permanent bleeder, in seconds. */
  double bleederSeconds() {
    return bank.capacitanceFarads() * bank.bleederOhms();
  }

  LedgerEvent.Intent intent() {
    return new LedgerEvent.PulseIntended(
        order.magnet(),
        order.attempt(),
        order.ordinal(),
        order.purpose(),
        pulse.drivesNorth(),
        pulse.full(),
        pulse.asked().milliVolts(),
        pulse.highest().milliVolts(),
        Math.round(order.field().amperesPerMetre()),
        Math.round(expectedPeakAmps * MILLI),
        coil.name());
  }
}
