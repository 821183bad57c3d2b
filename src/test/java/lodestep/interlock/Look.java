package lodestep.interlock;

import java.util.ArrayList;
import java.util.Arrays;
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
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.Voltage;

/**
 * What one watch sees in one scan, figure by figure: a new line of this very scan, lid closed,
 * permit held, nothing driven for an hour, if nobody says more. Unlike {@link Bench} it lets a time
 * or a level stand exactly at its limit.
 */
final class Look {

  static final long MS = 1_000_000L;

  /** Since when nothing has changed. */
  static final long LONG_AGO_NS = -3_600_000 * MS;

  static final Figures BANK = Figures.of(Bench.SETTINGS);

  private final Figures figures;
  long nowNs;
  boolean news = true;
  boolean heard = true;
  long ageNs;
  boolean linkOpen = true;
  long badLines;
  int bootId = 17;
  int bankMilliVolts;
  int coilMilliAmps;
  int coilCentiDegC = 2_000;
  int gaugeCentiDegC = 2_200;
  long clockMs;
  int positionMicroMetres = 2_000;
  int sampleCounter = 5;
  Set<HeadFlag> flags =
      EnumSet.of(HeadFlag.PERMIT, HeadFlag.HOMED, HeadFlag.JIG_HOME, HeadFlag.JIG_FAR);
  Set<InputLine> closed =
      EnumSet.of(
          InputLine.LID_A,
          InputLine.LID_B,
          InputLine.STOP_LOOP,
          InputLine.ARM_KEY,
          InputLine.FILL_CONTACT,
          InputLine.BLEED_CONTACT);
  Outputs driven = Outputs.ALL_LOW;
  Outputs readBack = Outputs.ALL_LOW;
  long fillSinceNs = LONG_AGO_NS;
  long holdSinceNs = LONG_AGO_NS;
  long relaysSinceNs = LONG_AGO_NS;
  long fireSinceNs = LONG_AGO_NS;
  long jigSinceNs = LONG_AGO_NS;
  private final List<HeadFrame> frames = new ArrayList<>();

  Look(Figures figures, long nowNs) {
    this.figures = figures;
    this.nowNs = nowNs;
  }

  /** All watches as at power-on, but for these two. */
  static Watches watches(SwitchedWatch switched, HeatWatch heat) {
    Watches on = Watches.POWER_ON;
    return new Watches(
        on.lid(),
        on.head(),
        on.identity(),
        on.line(),
        on.clock(),
        on.sensors(),
        on.relays(),
        on.bank(),
        on.proof(),
        on.pulse(),
        switched,
        heat,
        on.jig());
  }

  /** At a bank, at this many milliseconds. */
  static Look at(long milliseconds) {
    return new Look(BANK, milliseconds * MS);
  }

  Look bank(double volts) {
    bankMilliVolts = new Voltage(volts).milliVolts();
    return this;
  }

  /** Driven, and read back so, with the mirror contacts that follow. */
  Look driven(OutputLine... lines) {
    driven = Outputs.high(lines);
    readBack = driven;
    contact(InputLine.FILL_CONTACT, !driven.isHigh(OutputLine.BANK_FILL));
    boolean hold = driven.isHigh(OutputLine.BANK_HOLD) || driven.isHigh(OutputLine.COIL_ON);
    contact(InputLine.BLEED_CONTACT, !hold);
    contact(InputLine.REVERSE_CONTACT, driven.isHigh(OutputLine.COIL_REVERSE));
    return contact(InputLine.FULL_CONTACT, driven.isHigh(OutputLine.COIL_FULL));
  }

  Look contact(InputLine line, boolean isClosed) {
    if (isClosed) {
      closed.add(line);
    } else {
      closed.remove(line);
    }
    return this;
  }

  Look says(HeadFlag... more) {
    flags.addAll(Arrays.asList(more));
    return this;
  }

  Look silentOn(HeadFlag... less) {
    flags.removeAll(Arrays.asList(less));
    return this;
  }

  Look old() {
    news = false;
    return this;
  }

  Look frame(HeadFrame frame) {
    frames.add(frame);
    return this;
  }

  private HeadFrame.Status line() {
    int bits = 0;
    for (HeadFlag flag : flags) {
      bits |= flag.bit();
    }
    return new HeadFrame.Status(
        1,
        bootId,
        clockMs,
        sampleCounter,
        120,
        gaugeCentiDegC,
        coilCentiDegC,
        bankMilliVolts,
        coilMilliAmps,
        positionMicroMetres,
        bits);
  }

  InterlockInputs in() {
    return new InterlockInputs(
        nowNs,
        0,
        Contacts.of(closed, nowNs),
        frames.stream().map(frame -> new ReceivedFrame(frame, nowNs)).toList(),
        heard ? Optional.of(new View.Status(line(), nowNs - ageNs)) : Optional.empty(),
        new LinkState(linkOpen, badLines, "open"),
        driven,
        readBack,
        new LedgerState(0, Optional.empty()),
        false,
        false);
  }

  Seen seen() {
    DriveTimes drive =
        new DriveTimes(
            driven, true, fillSinceNs, holdSinceNs, relaysSinceNs, fireSinceNs, jigSinceNs);
    return new Seen(in(), figures, drive, line(), heard, news, ageNs);
  }
}
