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

  private static final int COOL = 2_500;
  private static final int HOT = 8_000;
  private static final int SENSOR_OPEN = 20_000;
  private static final int TOO_HIGH = 52_000;

  private final ExploredPlace before;
  private final ExploredPlace.Rig old;
  private final long wrong;

  ExploredPlant(ExploredPlace before, long wrong) {
    this.before = before;
    this.old = before.rig();
    this.wrong = wrong;
  }

  private static int bits(OutputLine line) {
    return Outputs.high(line).highBits();
  }

  /** The rig with what the host has asked of the head in this scan. */
  static ExploredPlace.Rig asked(ExploredPlace.Rig rig, boolean permit, boolean window) {
    return new ExploredPlace.Rig(
        rig.bank(),
        rig.relays(),
        rig.permit(),
        permit,
        window,
        rig.window(),
        rig.reportDue(),
        rig.boot(),
        rig.linkOpen(),
        rig.saidHello());
  }

  /** What the rig has come to. */
  ExploredPlace.Rig rig() {
    int relays = relays();
    boolean pulse = (before.driven().highBits() & FIRE) != 0 && old.window();
    boolean restarts = Deviation.HEAD_RESTARTS.in(wrong);
    boolean open = !Deviation.LINK_CLOSED.in(wrong);
    boolean permit = open && !restarts && old.asked() && holdsPermit();
    return new ExploredPlace.Rig(
        bank(relays, pulse && !Deviation.NOT_FIRED.in(wrong)),
        relays,
        permit,
        old.asked(),
        old.windowAsked(),
        permit && old.windowAsked(),
        pulse && !restarts,
        restarts ? 1 - old.boot() : old.boot(),
        open,
        open && (!Deviation.NO_HELLO.in(wrong) || (old.saidHello() && !restarts)));
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
    int drawn = before.driven().highBits() & (REVERSE | FULL);
    drawn |= old.permit() ? before.driven().highBits() & (FILL | HOLD) : 0;
    int stuck = Deviation.FILL_RELAY_STAYS.in(wrong) ? FILL : 0;
    stuck |= Deviation.BLEED_RELAY_STAYS.in(wrong) ? HOLD : 0;
    stuck |= Deviation.CHANGEOVER_STAYS.in(wrong) ? REVERSE : 0;
    stuck |= Deviation.RANGE_RELAY_STAYS.in(wrong) ? FULL : 0;
    return (drawn & ~stuck) | (old.relays() & stuck);
  }

  private int bank(int relays, boolean pulse) {
    int was = old.bank();
    if (Deviation.BANK_STANDS.in(wrong)) {
      return was;
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
        .with(InputLine.FILL_CONTACT, (relays & FILL) == 0 != fill)
        .with(InputLine.BLEED_CONTACT, (relays & HOLD) == 0 != bleed)
        .with(InputLine.REVERSE_CONTACT, (relays & REVERSE) != 0 != reverse)
        .with(InputLine.FULL_CONTACT, (relays & FULL) != 0);
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
      frames.add(new ReceivedFrame(Builds.inRun(rig.boot(), ExploredRig.BUILD), nowNs));
    }
    if (old.reportDue() && !newRun && !Deviation.NO_REPORT.in(wrong)) {
      frames.add(new ReceivedFrame(report(rig), nowNs));
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
    boolean fired = !Deviation.NOT_FIRED.in(wrong);
    int peak = fired ? 20_000 : 0;
    return new HeadFrame.PulseReport(
        rig.boot(), 1, 1, reverse ? 0 : peak, reverse ? peak : 0, 0, 0, 3_000, fired);
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
        Deviation.CURRENT_FLOWS.in(wrong) ? 500 : 0,
        0,
        flags);
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
