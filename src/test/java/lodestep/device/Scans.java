package lodestep.device;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/** What an act sees in one scan, figure by figure; a scan without news if nobody says more. */
final class Scans {

  long nowNs;

  /** For how long the head has been silent. */
  long silentNs;

  int bankMilliVolts;
  int coilMilliAmps;
  int positionMicroMetres;
  boolean bankProven = true;
  int flags = HeadFlag.PERMIT.bit();
  List<InputLine> closed = new ArrayList<>();
  Outputs driven = Outputs.ALL_LOW;
  LedgerState ledger = new LedgerState(0, Optional.empty());

  Scans(long nowNs) {
    this.nowNs = nowNs;
  }

  Scans closed(InputLine... lines) {
    closed.addAll(List.of(lines));
    return this;
  }

  Scans says(HeadFlag... more) {
    for (HeadFlag flag : more) {
      flags |= flag.bit();
    }
    return this;
  }

  Scans bank(int milliVolts) {
    bankMilliVolts = milliVolts;
    return this;
  }

  Scans driven(OutputLine... lines) {
    driven = Outputs.high(lines);
    return this;
  }

  /** With a status line that came in this scan. */
  View line(HeadFrame... before) {
    List<HeadFrame> frames = new ArrayList<>(List.of(before));
    frames.add(status());
    return view(frames.toArray(HeadFrame[]::new));
  }

  HeadFrame.Status status() {
    return new HeadFrame.Status(
        1, 9, 0, 1, 0, 2_200, 2_500, bankMilliVolts, coilMilliAmps, positionMicroMetres, flags);
  }

  /** With these frames; the newest status line came before. */
  View view(HeadFrame... frames) {
    return new View(
        nowNs,
        Instant.EPOCH,
        Contacts.of(closed, nowNs),
        Arrays.stream(frames).map(frame -> new ReceivedFrame(frame, nowNs)).toList(),
        Optional.of(new View.Status(status(), nowNs - silentNs)),
        new LinkState(true, 0, ""),
        driven,
        driven,
        bankProven,
        Optional.empty(),
        1,
        ledger,
        List.of(),
        Optional.empty());
  }
}
