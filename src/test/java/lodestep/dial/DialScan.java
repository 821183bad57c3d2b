package lodestep.dial;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.PlanAnswer;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/**
 * What dialing sees in one scan, figure by figure: a rig at rest, lid shut and armed, with a magnet
 * in it and a status line of this very scan, if nobody says more.
 */
final class DialScan {

  static final long MS = 1_000_000L;
  static final long NEXT_NUMBER = 41;

  long nowNs;
  long lineAgeNs;
  boolean lineBefore = true;
  int hallCounts = 100;
  int gaugeCentiDegC = 2_000;
  int coilCentiDegC = 2_000;
  int bankMilliVolts;
  int coilMilliAmps;
  int positionMicroMetres;
  int flags = HeadFlag.PERMIT.bit();
  Set<InputLine> closed =
      EnumSet.of(
          InputLine.WORK_SEAT,
          InputLine.LID_A,
          InputLine.LID_B,
          InputLine.ARM_KEY,
          InputLine.STOP_LOOP);
  Outputs driven = Outputs.ALL_LOW;
  LedgerState ledger = new LedgerState(0, Optional.empty());
  Optional<PlanAnswer> plan = Optional.empty();
  List<HeadFrame> frames = new ArrayList<>();

  DialScan(long nowNs) {
    this.nowNs = nowNs;
  }

  DialScan closed(InputLine... lines) {
    Collections.addAll(closed, lines);
    return this;
  }

  DialScan open(InputLine... lines) {
    for (InputLine line : lines) {
      closed.remove(line);
    }
    return this;
  }

  DialScan driven(OutputLine... lines) {
    driven = Outputs.high(lines);
    return this;
  }

  DialScan says(HeadFlag... more) {
    for (HeadFlag flag : more) {
      flags |= flag.bit();
    }
    return this;
  }

  DialScan hall(int counts) {
    hallCounts = counts;
    return this;
  }

  DialScan coilAt(double degC) {
    coilCentiDegC = (int) Math.round(degC * 100);
    return this;
  }

  DialScan frame(HeadFrame frame) {
    frames.add(frame);
    return this;
  }

  DialScan answer(PlanAnswer answer) {
    plan = Optional.of(answer);
    return this;
  }

  HeadFrame.Status status() {
    return new HeadFrame.Status(
        1,
        9,
        0,
        1,
        hallCounts,
        gaugeCentiDegC,
        coilCentiDegC,
        bankMilliVolts,
        coilMilliAmps,
        positionMicroMetres,
        flags);
  }

  /** With the status line among the frames of this scan. */
  View line() {
    return frame(status()).view();
  }

  View view() {
    return new View(
        nowNs,
        Instant.EPOCH,
        Contacts.of(closed, nowNs),
        frames.stream().map(frame -> new ReceivedFrame(frame, nowNs)).toList(),
        lineBefore ? Optional.of(new View.Status(status(), nowNs - lineAgeNs)) : Optional.empty(),
        new LinkState(true, 0, ""),
        driven,
        driven,
        true,
        Optional.empty(),
        NEXT_NUMBER,
        ledger,
        List.of(),
        plan);
  }
}
