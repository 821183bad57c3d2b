package lodestep.interlock;

import java.util.Optional;
import lodestep.port.Outputs;
import lodestep.port.View;

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
   * @param boot the head's run
   * @param linkOpen whether the line is open
   * @param saidHello whether the head has said who it is in this run, on this link
   */
  record Rig(
      int bank,
      int relays,
      boolean permit,
      boolean asked,
      boolean windowAsked,
      boolean window,
      boolean reportDue,
      int boot,
      boolean linkOpen,
      boolean saidHello) {}

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
   */
  record Facts(
      int aClosed,
      int bClosed,
      int still,
      int turn,
      boolean mustStop,
      int held,
      int silent,
      int proof) {}

  void describe(ExploredRig of, Fingerprint to) {
    new AgesOf(nowNs, of, rig.boot(), to).put(interlocks);
    to.put(driven.highBits()).put(readBack.highBits());
    to.put(rig.bank()).put(rig.relays());
    to.put(rig.permit()).put(rig.asked()).put(rig.windowAsked()).put(rig.window());
    to.put(rig.reportDue()).put(rig.linkOpen()).put(rig.saidHello());
    to.put(status.isPresent());
    if (status.isPresent()) {
      View.Status line = status.get();
      to.put(Math.min(4, (nowNs - line.receivedAtNs()) / of.scanNs()));
      to.put(line.frame().bankMilliVolts()).put(line.frame().coilMilliAmps());
      to.put(line.frame().flags()).put(line.frame().bootId() == rig.boot());
      to.put(line.frame().coilCentiDegC() / 1_000);
    }
    to.put(facts.aClosed()).put(facts.bClosed()).put(facts.still()).put(facts.turn());
    to.put(facts.mustStop()).put(facts.held()).put(facts.silent()).put(facts.proof());
  }
}
