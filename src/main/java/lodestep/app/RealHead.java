package lodestep.app;

import java.nio.file.Path;
import java.util.Optional;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.port.HeadLink;
import lodestep.port.WallClock;

/** The head on a serial line, in the machine's own time. */
record RealHead(HeadLink link, WallClock wall, Pace pace) implements HeadSource {

  /**
   * Opens the head that this rig names; no line of a board is touched.
   *
   * @throws Refusal in one sentence when it is missing, busy or not the right one; nothing is held
   *     then
   */
  static RealHead open(RigConfig rig, WallClock wall, Pace pace) {
    if (!(rig.head() instanceof HeadConfig.SerialHead wanted)) {
      throw new Refusal("the real rig " + rig.name() + " names no head; add [head] to rig.toml");
    }
    return greeted(SerialHeadLink.to(Path.of(wanted.port()), pace::nowNs), wanted, wall, pace);
  }

  /**
   * Takes the head at this link once it has said who it is.
   *
   * @throws Refusal in one sentence; the link is closed then
   */
  static RealHead greeted(HeadLink link, HeadConfig.SerialHead wanted, WallClock wall, Pace pace) {
    Optional<String> objection = Optional.empty();
    try {
      objection = HeadStart.objection(link, wanted, Optional.empty(), pace);
    } finally {
      if (objection.isPresent()) {
        link.close();
      }
    }
    objection.ifPresent(
        why -> {
          throw new Refusal(why);
        });
    return new RealHead(link, wall, pace);
  }

  @Override
  public long nowNs() {
    return pace.nowNs();
  }

  @Override
  public void advance(long forNs) {
    pace.until(pace.nowNs() + forNs);
  }

  @Override
  public void close() {
    link.close();
  }
}
