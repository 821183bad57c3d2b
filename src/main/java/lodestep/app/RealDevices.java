package lodestep.app;

import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.interlock.HeadBuild;
import lodestep.interlock.InterlockSettings;
import lodestep.port.HeadLink;
import lodestep.port.Lines;
import lodestep.port.LinesException;

/**
 * The lines and the head that a real rig names. One that is missing, busy or not the right one is a
 * refusal, never a reason to go virtual.
 */
record RealDevices(Lines lines, HeadLink head) implements AutoCloseable {

  /**
   * Opens both; every output is low from here on.
   *
   * @param board opens a board's lines by their pins
   * @throws Refusal in one sentence; nothing is held then
   */
  static RealDevices open(RigConfig rig, Pace pace, Function<Map<String, Integer>, Lines> board) {
    if (!(rig.head() instanceof HeadConfig.SerialHead wanted)) {
      throw new Refusal("the real rig " + rig.name() + " names no head; add [head] to rig.toml");
    }
    Lines lines = lines(rig, board);
    HeadLink head = SerialHeadLink.to(Path.of(wanted.port()), pace::nowNs);
    RealDevices devices = new RealDevices(lines, head);
    HeadBuild build = HeadBuild.of(InterlockSettings.of(rig));
    Optional<String> objection = Optional.empty();
    try {
      objection = HeadStart.objection(head, wanted, Optional.of(build), pace);
    } finally {
      if (objection.isPresent()) {
        devices.close();
      }
    }
    objection.ifPresent(
        why -> {
          throw new Refusal(why);
        });
    return devices;
  }

  private static Lines lines(RigConfig rig, Function<Map<String, Integer>, Lines> board) {
    try {
      return board.apply(rig.pins());
    } catch (LinesException refused) {
      throw new Refusal(refused.sentence());
    }
  }

  /** Lines first: whatever the head's port does, the outputs are low by then. */
  @Override
  public void close() {
    try {
      lines.close();
    } finally {
      head.close();
    }
  }
}
