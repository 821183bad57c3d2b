package lodestep.interlock;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.port.LedgerState;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;

/** What a sequence sees of a scan. */
final class ExploredView {

  /** The intent of whatever is ordered. */
  static final long INTENT = 7;

  private ExploredView() {}

  /** The view, with the intent on disk or not yet. */
  static View of(
      InterlockInputs in, InterlockStep judged, List<ReceivedFrame> frames, boolean durable) {
    return new View(
        in.nowNs(),
        Instant.EPOCH,
        in.contacts(),
        frames,
        in.status(),
        in.link(),
        in.readBack(),
        judged.permission().allowed(),
        judged.next().row().met(Condition.BANK_PROVEN),
        judged.next().trip(),
        INTENT + 1,
        new LedgerState(durable ? INTENT : 0, in.ledger().fault()),
        List.of(),
        Optional.empty());
  }
}
