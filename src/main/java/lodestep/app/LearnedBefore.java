package lodestep.app;

import java.util.Optional;
import lodestep.bench.ShownCurve;
import lodestep.bench.WearOnRecord;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.device.BankLeft;
import lodestep.dial.GapCurve;
import lodestep.dial.RigMemory;
import lodestep.ledger.ContactLife;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/** What earlier runs have taught of this rig, read from its ledger. */
final class LearnedBefore {

  private static final double MILLION = 1e6;
  private static final double NANO = 1e-9;
  private static final String UNTIL_THEN = "; until then no batch is begun";

  private LearnedBefore() {}

  /**
   * The newest gap curve on record, what magnets of each kind have shown, and how worn the rig's
   * parts are; the archive's errors pass on.
   */
  static RigMemory of(LedgerArchive archive, RigConfig rig) {
    RigMemory[] memory = {RigMemory.none()};
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.GapCurveMeasured.class),
        stored -> {
          if (EventCodec.decode(stored).event() instanceof LedgerEvent.GapCurveMeasured curve) {
            memory[0] = memory[0].with(curve(curve));
          }
        });
    ShownCurve.all(archive)
        .forEach(shown -> memory[0] = memory[0].with(shown.kind(), shown.curve()));
    return memory[0].with(WearOnRecord.of(archive, rig));
  }

  /** The same, for a batch that fires: refused on a rig whose bank or relays are worn out. */
  static RigMemory forBatch(LedgerArchive archive, RigConfig rig) {
    RigMemory memory = of(archive, rig);
    BankLeft bank = memory.wear().bank();
    if (bank.lost()) {
      throw new Refusal(bank.sentence() + UNTIL_THEN);
    }
    ContactLife contacts = ContactLife.of(archive, rig.relays());
    if (contacts.over()) {
      throw new Refusal(contacts.sentence() + UNTIL_THEN);
    }
    return memory;
  }

  private static GapCurve curve(LedgerEvent.GapCurveMeasured event) {
    return new GapCurve(
        event.strengthPartsPerMillion() / MILLION,
        event.heightMicroMetres() / MILLION,
        new FluxDensity(event.strayNanoTesla() * NANO),
        Optional.empty());
  }
}
