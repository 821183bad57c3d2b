package lodestep.scan;

import lodestep.port.HeadLink;
import lodestep.port.Ledger;
import lodestep.port.Lines;
import lodestep.port.PlanDesk;
import lodestep.port.WallClock;

/** The outside as a scan sees it. Whoever made the ports closes them, after the cycle. */
public record ScanPorts(Lines lines, HeadLink head, Ledger ledger, PlanDesk desk, WallClock wall) {}
