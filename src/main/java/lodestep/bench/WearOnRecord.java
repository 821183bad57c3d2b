package lodestep.bench;

import java.time.LocalDate;
import java.time.ZoneOffset;
import lodestep.config.BankConfig;
import lodestep.config.RigConfig;
import lodestep.device.BankLeft;
import lodestep.device.RigWear;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;

/** What a rig's record tells of the wear of its parts. */
public final class WearOnRecord {

  private WearOnRecord() {}

  /** All that the record tells; reads as long as there are pulses. Errors are the archive's. */
  public static RigWear of(LedgerArchive archive, RigConfig rig) {
    return of(archive, rig, RigWear.UNKNOWN);
  }

  /**
   * The same of a rig of which something was known before its record began.
   *
   * @param before what that was of its coils
   */
  public static RigWear of(LedgerArchive archive, RigConfig rig, RigWear before) {
    return new RigWear(bank(archive, rig.bank()), CoilsOnRecord.of(archive, rig, before.coils()));
  }

  /** What the bank has left, by its proofs since it was new. */
  public static BankLeft bank(LedgerArchive archive, BankConfig bank) {
    long fromEpochMs = newSince(bank);
    BankLeft[] left = {BankLeft.UNKNOWN};
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.BankProven.class),
        stored -> {
          if (stored.index().wallEpochMs() >= fromEpochMs
              && EventCodec.decode(stored).event() instanceof LedgerEvent.BankProven proof) {
            left[0] = left[0].with(proof);
          }
        });
    return left[0];
  }

  private static long newSince(BankConfig bank) {
    return bank.newSince().isEmpty()
        ? Long.MIN_VALUE
        : LocalDate.parse(bank.newSince()).atStartOfDay(ZoneOffset.UTC).toInstant().toEpochMilli();
  }
}
