package lodestep.app;

import java.io.IOException;
import java.time.Instant;
import java.util.Optional;
import lodestep.app.remote.HandOrder;
import lodestep.app.remote.RemoteRig;
import lodestep.app.remote.RigOrder;
import lodestep.config.RigConfig;
import lodestep.port.HandCue;
import lodestep.port.HeadLink;
import lodestep.port.WallClock;
import lodestep.sim.VirtualWallClock;

/** A virtual head in a process of its own on a real serial line, with a virtual hand beside it. */
final class RemoteHead implements HeadSource {

  private final RemoteRig rig;
  private final VirtualWallClock wall;
  private final Optional<Pace> watched;
  private final long beganNs;
  private final long watchedFromNs;

  private RemoteHead(RemoteRig rig, Instant wallStart, Optional<Pace> watched) {
    this.rig = rig;
    this.wall = new VirtualWallClock(rig.clock(), wallStart);
    this.watched = watched;
    this.beganNs = rig.clock().nowNs();
    this.watchedFromNs = watched.map(Pace::nowNs).orElse(0L);
  }

  /**
   * Starts the rig's process.
   *
   * @param watched the machine's pace, when a person watches
   * @throws IOException when it cannot be started; its message is one sentence for a person, and
   *     nothing is left running
   */
  static RemoteHead start(
      RigConfig config, HandOrder order, Instant wallStart, Optional<Pace> watched)
      throws IOException {
    return new RemoteHead(RemoteRig.start(RigOrder.byHand(config, order)), wallStart, watched);
  }

  @Override
  public HeadLink link() {
    return rig.head();
  }

  @Override
  public WallClock wall() {
    return wall;
  }

  @Override
  public long nowNs() {
    return rig.clock().nowNs();
  }

  @Override
  public void advance(long forNs) {
    rig.advance(forNs);
    watched.ifPresent(pace -> pace.until(watchedFromNs + (nowNs() - beganNs)));
  }

  @Override
  public void cue(HandCue next) {
    rig.cue(next);
  }

  @Override
  public int continues() {
    return rig.continues();
  }

  @Override
  public Optional<String> gone() {
    return rig.gone();
  }

  @Override
  public void close() {
    rig.close();
  }
}
