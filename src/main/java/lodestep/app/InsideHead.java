package lodestep.app;

import java.time.Instant;
import java.util.Optional;
import lodestep.app.remote.HandOrder;
import lodestep.bench.Lots;
import lodestep.config.RigConfig;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.HeadLink;
import lodestep.port.WallClock;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualHand;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualWallClock;

/**
 * The virtual head inside the program, with a virtual hand beside it. As fast as the machine, or at
 * the pace of a person who watches.
 */
public final class InsideHead implements HeadSource {

  private final VirtualRig rig;
  private final VirtualWallClock wall;
  private final VirtualHand hand;
  private final Optional<Pace> watched;
  private final long beganNs;
  private final long watchedFromNs;
  private HandCue cue = HandCue.of(HandAsk.WAIT);
  private int continues;

  /**
   * @param order who is beside it, with what
   * @param watched the machine's pace, when a person watches
   */
  InsideHead(RigConfig config, HandOrder order, Instant wallStart, Optional<Pace> watched) {
    this(config, order, wallStart, watched, FaultPlan.NONE);
  }

  /**
   * @param broken what is broken on the rig
   */
  InsideHead(
      RigConfig config,
      HandOrder order,
      Instant wallStart,
      Optional<Pace> watched,
      FaultPlan broken) {
    this.rig = new VirtualRig(config, order.nest(), order.seed(), broken);
    this.wall = new VirtualWallClock(rig.clock(), wallStart);
    this.hand =
        order.hand(rig, Lots.of(config), Lots.element(config), () -> cue, () -> continues++);
    this.watched = watched;
    this.beganNs = rig.clock().nowNs();
    this.watchedFromNs = watched.map(Pace::nowNs).orElse(0L);
  }

  @Override
  public HeadLink link() {
    return rig.headLink();
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
    continues = 0;
    long untilNs = nowNs() + forNs;
    while (nowNs() - untilNs < 0) {
      hand.step(nowNs());
      rig.step();
    }
    watched.ifPresent(pace -> pace.until(watchedFromNs + (nowNs() - beganNs)));
  }

  @Override
  public void cue(HandCue next) {
    cue = next;
  }

  @Override
  public int continues() {
    return continues;
  }

  @Override
  public void close() {
    // Nothing outside the program is held.
  }
}
