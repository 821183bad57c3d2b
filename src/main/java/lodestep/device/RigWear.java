package lodestep.device;

import java.util.Optional;
import lodestep.port.LedgerEvent;

/**
 * What the rig's own record tells of the wear of its parts. Any thread, immutable.
 *
 * @param bank how much of its capacitance is left
 * @param coils what they usually carry
 */
public record RigWear(BankLeft bank, UsualCurrents coils) {

  /** Nothing is on record. */
  public static final RigWear UNKNOWN = new RigWear(BankLeft.UNKNOWN, UsualCurrents.UNKNOWN);

  /** With one more proof of the bank. */
  public RigWear with(LedgerEvent.BankProven proof) {
    return new RigWear(bank.with(proof), coils);
  }

  /** With one more delivered pulse. */
  public RigWear with(Carried carried) {
    return new RigWear(bank, coils.with(carried));
  }

  /** With the coils seen to by a person. */
  public RigWear coilsSeenTo() {
    return new RigWear(bank, coils.seenTo());
  }

  /**
   * Why nothing may be fired, in one sentence; empty when it may.
   *
   * @param proven whether the bank's newest proof stands; else one more is made before it is judged
   */
  public Optional<String> refusal(boolean proven) {
    return proven && bank.lost() ? Optional.of(bank.sentence()) : coils.sentence();
  }
}
