package lodestep.interlock;

import java.util.ArrayList;
import java.util.List;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.RefusalReason;
import lodestep.quantity.Temperature;

/**
 * One scan's worth of the drawn rig: what has become of it since the last scan, and what host and
 * head see of that.
 */
final class ExploredPlant {

  private static final int FILL = bits(OutputLine.BANK_FILL);
  private static final int HOLD = bits(OutputLine.BANK_HOLD);
  private static final int REVERSE = bits(OutputLine.COIL_REVERSE);
  private static final int FULL = bits(OutputLine.COIL_FULL);
  private static final int FIRE = bits(OutputLine.COIL_FIRE);
  private static final int ON = bits(OutputLine.COIL_ON);
  private static final int LADDER = bits(OutputLine.LADDER_1) | bits(OutputLine.LADDER_2);

  /** Scans after which the hardware timer ends a pulse. */
  private static final int TIMER_SCANS = 3;

  /** Longer than any that is let through unjudged. */
  private static final int FLOW_SCANS_MAX = 6;

  private static final int SCAN_MICROS = 50_000;
  private static final int COOL = 2_500;
  private static final int HOT = 8_000;
  private static final int SENSOR_OPEN = 20_000;
  private static final int TOO_HIGH = 52_000;

  private final ExploredKind kind;
  private final HeadFrame.Build build;
  private final ExploredPlace before;
  private final ExploredPlace.Rig old;
  private final long wrong;

  ExploredPlant(ExploredKind kind, HeadFrame.Build build, ExploredPlace before, long wrong) {
    this.kind = kind;
    this.build = build;
    this.before = before;
    this.old = before.rig();
    this.wrong = wrong;
  }

  private static int bits(OutputLine line) {
    return Outputs.high(line).highBits();
  }

  /** What the rig has come to. */
  ExploredPlace.Rig rig() {
    int relays = relays();
    boolean restarts = Deviation.HEAD_RESTARTS.in(wrong);
    boolean open = !Deviation.LINK_CLOSED.in(wrong);
    boolean permit = open && !restarts && old.asked() && holdsPermit();
    boolean pulse = (before.driven().highBits() & FIRE) != 0 && old.window();
    boolean passing = pulse && !Deviation.NOT_FIRED.in(wrong) && passes(relays);
    ExploredPlace.Flow flow = kind.switched() ? flow(pulse, passing, relays) : old.flow();
    boolean over = kind.switched() ? !pulse && old.flow().scans() > 0 && !old.reportDue() : pulse;
    return new ExploredPlace.Rig(
        bank(relays, passing),
        relays,
        permit,
        old.asked(),
        old.windowAsked(),
        permit && old.windowAsked(),
        over && !restarts,
        passing,
        flow,
        restarts ? 1 - old.boot() : old.boot(),
        open,
        open && (!Deviation.NO_HELLO.in(wrong) || (old.saidHello() && !restarts)),
        kind.jig() ? carriage(permit, open) : old.carriage());
  }

  private ExploredCarriage carriage(boolean permit, boolean open) {
    boolean powered = permit && before.driven().isHigh(OutputLine.JIG_ENABLE);
    ExploredCarriage from = open ? old.carriage() : old.carriage().asked(ExploredCarriage.NOTHING);
    return from.step(powered, wrong);
  }

  /** A pulse of the bank is over within the scan; that of a feed ends by gate, window or timer. */
  private boolean passes(int relays) {
    boolean timer = old.flow().scans() < TIMER_SCANS || Deviation.TIMER_RUNS_LONG.in(wrong);
    return !kind.switched() || ((relays & ON) != 0 && timer);
  }

  private ExploredPlace.Flow flow(boolean pulse, boolean passing, int relays) {
    ExploredPlace.Flow was = old.reportDue() ? ExploredPlace.Flow.NONE : old.flow();
    if (!pulse || (was.scans() > 0 && !passing)) {
      return was;
    }
    int milliAmps = Math.max(was.milliAmps(), passing ? levelMilliAmps(relays) : 0);
    return new ExploredPlace.Flow(
        Math.min(was.scans() + 1, FLOW_SCANS_MAX), milliAmps, was.fired() || passing);
  }

  /** Ohm's law for the drawn supply, coil and ladder, to the milliampere. */
  private static int levelMilliAmps(int relays) {
    double ohms = ExploredKind.A_COIL.ohmsAt(Temperature.ofDegC(COOL * 0.01));
    double amps =
        (relays & FULL) != 0
            ? ExploredKind.A_SUPPLY.fullAmps(ohms)
            : ExploredKind.A_SUPPLY.amps(SwitchedFigures.level(new Outputs(relays)), ohms);
    return (int) Math.round(amps * 1e3);
  }

  private boolean chainClosed() {
    return !anyOf(
        Deviation.CHAIN_OPEN,
        Deviation.COIL_HOT,
        Deviation.LID_A_OPEN,
        Deviation.LID_B_OPEN,
        Deviation.STOP_LOOP_OPEN);
  }

  private boolean holdsPermit() {
    return chainClosed() && !anyOf(Deviation.HEAD_KEEPS_NO_PERMIT, Deviation.HEAD_LATCHED);
  }

  private boolean anyOf(Deviation... these) {
    for (Deviation one : these) {
      if (one.in(wrong)) {
        return true;
      }
    }
    return false;
  }

  /** Fill and hold hang on the permit; a stuck relay stays where it was. */
  private int relays() {
    int drawn = before.driven().highBits() & (REVERSE | FULL | LADDER);
    drawn |= old.permit() ? before.driven().highBits() & (FILL | HOLD | ON) : 0;
    int stuck = Deviation.FILL_RELAY_STAYS.in(wrong) ? FILL : 0;
    stuck |= Deviation.BLEED_RELAY_STAYS.in(wrong) ? HOLD | ON : 0;
    stuck |= Deviation.LADDER_RELAY_STAYS.in(wrong) ? LADDER : 0;
    stuck |= Deviation.CHANGEOVER_STAYS.in(wrong) ? REVERSE : 0;
    stuck |= Deviation.RANGE_RELAY_STAYS.in(wrong) ? FULL : 0;
    return (drawn & ~stuck) | (old.relays() & stuck);
  }

  private int bank(int relays, boolean pulse) {
    int was = old.bank();
    if (Deviation.BANK_STANDS.in(wrong)) {
      return was;
    }
    if ((relays & ON) != 0) {
      return ExploredRig.FULL_BANK;
    }
    if (Deviation.BANK_CREEPS_UP.in(wrong) || (relays & (FILL | HOLD)) == (FILL | HOLD)) {
      return Math.min(was + 1, ExploredRig.FULL_BANK);
    }
    if (pulse) {
      return Math.max(was - 2, 0);
    }
    return (relays & HOLD) != 0 ? was : Math.max(was - 1, 0);
  }

  /** The contacts as the host reads them. */
  Contacts contacts(ExploredPlace.Rig rig, long nowNs) {
    return seen(rig, nowNs, true);
  }

  private Contacts seen(ExploredPlace.Rig rig, long nowNs, boolean byHost) {
    int relays = rig.relays();
    boolean fill = byHost && Deviation.FILL_CONTACT_LIES.in(wrong);
    boolean bleed = byHost && Deviation.BLEED_CONTACT_LIES.in(wrong);
    boolean reverse = byHost && Deviation.CHANGEOVER_CONTACT_LIES.in(wrong);
    return new Contacts(0, nowNs)
        .with(InputLine.LID_A, !Deviation.LID_A_OPEN.in(wrong))
        .with(InputLine.LID_B, !Deviation.LID_B_OPEN.in(wrong))
        .with(InputLine.STOP_LOOP, !Deviation.STOP_LOOP_OPEN.in(wrong))
        .with(InputLine.ARM_KEY, !Deviation.KEY_OFF.in(wrong))
        .with(InputLine.FILL_CONTACT, linked(byHost, (relays & FILL) == 0 != fill))
        .with(InputLine.BLEED_CONTACT, (relays & (HOLD | ON)) == 0 != bleed)
        .with(InputLine.REVERSE_CONTACT, (relays & REVERSE) != 0 != reverse)
        .with(InputLine.FULL_CONTACT, (relays & FULL) != 0);
  }

  /** Without a bank the head's input is linked closed and the host has no such contact. */
  private boolean linked(boolean byHost, boolean closed) {
    return kind.switched() ? !byHost : closed;
  }

  /** What comes from the head. */
  List<ReceivedFrame> frames(ExploredPlace.Rig rig, Contacts byHost, long nowNs) {
    List<ReceivedFrame> frames = new ArrayList<>();
    if (!rig.linkOpen()) {
      return frames;
    }
    boolean newRun = rig.boot() != old.boot();
    if (rig.saidHello() && (newRun || !old.saidHello())) {
      frames.add(new ReceivedFrame(hello(rig.boot()), nowNs));
      frames.add(new ReceivedFrame(Builds.inRun(rig.boot(), build), nowNs));
    }
    if (old.reportDue() && !newRun && !Deviation.NO_REPORT.in(wrong)) {
      frames.add(new ReceivedFrame(report(rig), nowNs));
    }
    if (rig.carriage().refused()) {
      frames.add(
          new ReceivedFrame(new HeadFrame.Refused(rig.boot(), RefusalReason.NOT_SAFE, 0), nowNs));
    }
    if (!Deviation.NO_LINE.in(wrong)) {
      Contacts own = seen(rig, nowNs, false);
      frames.add(new ReceivedFrame(line(rig, own, nowNs), nowNs));
    }
    return frames;
  }

  private static HeadFrame.Hello hello(int boot) {
    return new HeadFrame.Hello(boot, "H", HeadFrame.PROTOCOL_VERSION, "0.1", true);
  }

  private HeadFrame.PulseReport report(ExploredPlace.Rig rig) {
    boolean reverse = (old.relays() & REVERSE) != 0 != Deviation.WRONG_SIGN.in(wrong);
    boolean fired = kind.switched() ? old.flow().fired() : !Deviation.NOT_FIRED.in(wrong);
    int peak = kind.switched() ? old.flow().milliAmps() : fired ? 20_000 : 0;
    int micros = kind.switched() ? old.flow().scans() * SCAN_MICROS : 3_000;
    return new HeadFrame.PulseReport(
        rig.boot(), 1, 1, reverse ? 0 : peak, reverse ? peak : 0, 0, 0, micros, fired);
  }

  private HeadFrame.Status line(ExploredPlace.Rig rig, Contacts own, long nowNs) {
    int flags = ExploredRig.flags(own);
    flags ^= Deviation.HEAD_SEES_OTHER_CONTACT.in(wrong) ? HeadFlag.LID_B.bit() : 0;
    flags |= rig.permit() ? HeadFlag.PERMIT.bit() : 0;
    flags |= rig.window() ? HeadFlag.WINDOW.bit() : 0;
    flags |= chainClosed() ? HeadFlag.CHAIN.bit() : 0;
    flags |= Deviation.HEAD_LATCHED.in(wrong) ? HeadFlag.LATCHED.bit() : 0;
    int sample = before.status().map(last -> last.frame().sampleCounter()).orElse(0);
    int other = before.status().map(last -> 1 - last.frame().coilCentiDegC() % 2).orElse(0);
    return new HeadFrame.Status(
        0,
        rig.boot(),
        nowNs / ExploredRig.MS,
        Deviation.GAUGE_STANDS.in(wrong) ? sample : 1 - sample,
        120,
        2_200,
        temperature() + other,
        milliVolts(rig),
        milliAmps(rig),
        rig.carriage().countMm() * 1_000,
        flags | jigFlags(rig.carriage()));
  }

  /** A switch that is shorted lets the feed's current through whenever there is one. */
  private int milliAmps(ExploredPlace.Rig rig) {
    boolean flows = Deviation.CURRENT_FLOWS.in(wrong);
    if (!kind.switched()) {
      return flows ? 500 : 0;
    }
    boolean fed = (rig.relays() & ON) != 0;
    return rig.passing() || (flows && fed) ? levelMilliAmps(rig.relays()) : 0;
  }

  private int jigFlags(ExploredCarriage carriage) {
    if (!kind.jig()) {
      return 0;
    }
    return (carriage.homeClosed(wrong) ? HeadFlag.JIG_HOME.bit() : 0)
        | (carriage.farClosed(wrong) ? HeadFlag.JIG_FAR.bit() : 0)
        | (carriage.homed() ? HeadFlag.HOMED.bit() : 0);
  }

  private int temperature() {
    return Deviation.COIL_SENSOR_OPEN.in(wrong)
        ? SENSOR_OPEN
        : Deviation.COIL_HOT.in(wrong) ? HOT : COOL;
  }

  private int milliVolts(ExploredPlace.Rig rig) {
    if (Deviation.BANK_READS_NOTHING.in(wrong)) {
      return 0;
    }
    return Deviation.BANK_READS_TOO_HIGH.in(wrong) ? TOO_HIGH : ExploredRig.milliVolts(rig.bank());
  }
}
