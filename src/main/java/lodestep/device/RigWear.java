package lodestep.device;

import java.util.Optional;
import lodestep.port.LedgerEvent;

/**
 * What the rig's own record tells of the wear of its parts. Any thread, immutable.
 *
 * @param bank how much of its capacitance is left
 */
public record RigWear(BankLeft bank) {

  /** Nothing is on record. */
  public static final RigWear UNKNOWN = new RigWear(BankLeft.UNKNOWN);

  /** With one more proof of the bank. */
  public RigWear with(LedgerEvent.BankProven proof) {
    return new RigWear(bank.with(proof));
  }

  /** Why nothing may be fired, in one sentence; empty when it may. */
  public Optional<String> refusal() {
    return bank.lost() ? Optional.of(bank.sentence()) : Optional.empty();
  }
}
