package lodestep.scan;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.port.Contacts;
import lodestep.port.HeadLink;
import lodestep.port.Ledger;
import lodestep.port.Lines;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.PlanDesk;
import lodestep.port.View;
import lodestep.port.WallClock;

/** The outside as a scan sees it. Whoever made the ports closes them, after the cycle. */
public record ScanPorts(Lines lines, HeadLink head, Ledger ledger, PlanDesk desk, WallClock wall) {

  /** What there is to see before the first scan. */
  View nothingRead() {
    return new View(
        0,
        Instant.EPOCH,
        new Contacts(0, 0),
        List.of(),
        Optional.empty(),
        new LinkState(false, 0, "no scan has run yet"),
        Outputs.ALL_LOW,
        Outputs.ALL_LOW,
        false,
        Optional.empty(),
        ledger.nextNumber(),
        ledger.state(),
        List.of(),
        Optional.empty());
  }
}
