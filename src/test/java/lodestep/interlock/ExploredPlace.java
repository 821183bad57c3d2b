package lodestep.interlock;

import java.util.Optional;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;

/**
 * The rig and its interlocks between two scans.
 *
 * @param interlocks what the interlocks remember
 * @param driven levels driven in the last scan
 * @param readBack levels read back
 * @param rig what the rig has come to
 * @param status the newest line of the head
 * @param facts what the rules need to know of what has been
 * @param nowNs when the last scan was
 */
record ExploredPlace(
    InterlockState interlocks,
    Outputs driven,
    Outputs readBack,
    Rig rig,
    Optional<View.Status> status,
    Facts facts,
    long nowNs) {

  /** Two drives as long as the head makes them, and the travel. */
  private static final int BEYOND_MM = 2 * ExploredCarriage.BUDGET_MM + ExploredKind.TRAVEL_MM;

  /**
   * The parts.
   *
   * @param bank level of the bank, 0 to {@link ExploredRig#FULL_BANK}
   * @param relays those that are drawn, as bits of the outputs
   * @param permit whether the head holds the permit
   * @param asked whether the last heartbeat asked for it
   * @param windowAsked whether the window was asked for since
   * @param window whether it is open
   * @param reportDue whether the report of a pulse is on its way
   * @param passing whether the gate has let current through in this scan
   * @param flow of a switched coil: of the pulse under way, or of the one to be reported
   * @param boot the head's run
   * @param linkOpen whether the line is open
   * @param saidHello whether the head has said who it is in this run, on this link
   * @param carriage of the jig; as at power-on where there is none
   */
  record Rig(
      int bank,
      int relays,
      boolean permit,
      boolean asked,
      boolean windowAsked,
      boolean window,
      boolean reportDue,
      boolean passing,
      Flow flow,
      int boot,
      boolean linkOpen,
      boolean saidHello,
      ExploredCarriage carriage) {

    static final Rig POWER_ON =
        new Rig(
            0,
            0,
            false,
            false,
            false,
            false,
            false,
            false,
            Flow.NONE,
            0,
            true,
            false,
            ExploredCarriage.POWER_ON);

    /** With what the host has asked of the head in this scan. */
    Rig asked(boolean permitAsked, ExploredJob job) {
      return new Rig(
          bank,
          relays,
          permit,
          permitAsked,
          job.window(),
          window,
          reportDue,
          passing,
          flow,
          boot,
          linkOpen,
          saidHello,
          carriage.asked(job.moveMm()));
    }
  }

  /**
   * A pulse that does not end by itself.
   *
   * @param scans for which the head has seen the gate
   * @param milliAmps its current
   * @param fired whether any flowed
   */
  record Flow(int scans, int milliAmps, boolean fired) {
    static final Flow NONE = new Flow(0, 0, false);
  }

  /**
   * What has been, kept apart from what the interlocks keep.
   *
   * @param aClosed scans for which the first lid contact has been closed, up to 2
   * @param bClosed the same of the second
   * @param still scans for which the coil's relays have been driven as now, up to 2
   * @param turn how far the key has been turned since a trip came: 1 and 2 off, 3 and 4 on again
   * @param mustStop whether lid, stop loop or chain has opened in use and no reset come since
   * @param held scans for which the bank has been held without a pulse
   * @param silent scans since the newest line
   * @param proof how far the bank's proof has come: 1 it stood, low and held, 2 and then it bled
   * @param gate scans for which the gate has been high
   * @param jig what has been of the jig
   */
  record Facts(
      int aClosed,
      int bClosed,
      int still,
      int turn,
      boolean mustStop,
      int held,
      int silent,
      int proof,
      int gate,
      ExploredJigRules.Facts jig) {

    static final Facts NONE = new Facts(0, 0, 0, 0, false, 0, 0, 0, 0, ExploredJigRules.Facts.NONE);
  }

  void describe(ExploredRig of, Fingerprint to) {
    ages(of, to).put(interlocks);
    to.put(driven.highBits()).put(readBack.highBits());
    to.put(rig.bank()).put(rig.relays());
    to.put(rig.permit()).put(rig.asked()).put(rig.windowAsked()).put(rig.window());
    to.put(rig.reportDue()).put(rig.linkOpen()).put(rig.saidHello());
    to.put(rig.flow().scans()).put(rig.flow().milliAmps()).put(rig.flow().fired());
    rig.carriage().describe(fromMm(), to);
    to.put(status.isPresent());
    if (status.isPresent()) {
      View.Status line = status.get();
      to.put(Math.min(4, (nowNs - line.receivedAtNs()) / of.scanNs()));
      to.put(line.frame().bankMilliVolts()).put(line.frame().coilMilliAmps());
      to.put(line.frame().flags()).put(line.frame().bootId() == rig.boot());
      to.put(line.frame().coilCentiDegC() / 1_000);
      to.put(line.frame().positionMicroMetres() - fromMm() * 1_000);
    }
    to.put(facts.aClosed()).put(facts.bClosed()).put(facts.still()).put(facts.turn());
    to.put(facts.mustStop()).put(facts.held()).put(facts.silent()).put(facts.proof());
    to.put(facts.gate());
    facts.jig().describe(to);
  }

  /** For what is remembered here. */
  AgesOf ages(ExploredRig of, Fingerprint to) {
    return new AgesOf(nowNs, of, rig.boot(), fromMm() * 1_000, to);
  }

  /**
   * Whether only differences of the jig's places matter: while neither the head's count, nor its
   * newest line, nor what the interlocks remember is proven, nothing is compared with a fixed
   * place. Otherwise each vain search for home would lead to new states without end.
   */
  private boolean relative() {
    boolean unproven = status.isEmpty() || !status.get().frame().has(HeadFlag.HOMED);
    return unproven
        && !rig.carriage().homed()
        && !interlocks.watches.jig().homed()
        && !interlocks.watches.jig().doubted();
  }

  /**
   * The place from which places are told. Counts so far out that neither this drive nor the next
   * brings them back to where they are compared with the switches are told as one: a motor that
   * stalls, switched off each time before that is seen, would lead ever further.
   */
  private int fromMm() {
    int count = rig.carriage().countMm();
    return relative() ? count : count - Math.max(-BEYOND_MM, Math.min(BEYOND_MM, count));
  }
}
