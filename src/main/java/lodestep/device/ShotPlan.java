package lodestep.device;

import lodestep.config.BankConfig;
import lodestep.config.Limits;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * What stays the same through one shot.
 *
 * @param pulse what is asked
 * @param intentNumber the ledger number of its intent
 * @param expectedPeakAmps peak current expected, &gt; 0; a tenth of it is the least that counts as
 *     delivered
 */
public record ShotPlan(
    Pulse pulse, long intentNumber, double expectedPeakAmps, BankConfig bank, Limits limits) {

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
}
