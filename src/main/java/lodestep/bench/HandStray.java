package lodestep.bench;

import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;

/**
 * How far the live reading is pulled down, from its settled level, while the opposing magnet is
 * near. Any thread, immutable.
 *
 * @param baseTesla settled level along the magnet's pole
 * @param pullTesla pull now, smoothed over some lines; negative when it is pulled up
 * @param mostTesla greatest pull so far, &ge; 0
 * @param leastTesla least pull so far, &le; 0
 * @param lastAtNs when the newest line came
 */
record HandStray(
    double baseTesla, double pullTesla, double mostTesla, double leastTesla, long lastAtNs) {

  private static final double GAUSS = 1e-4;

  /** A smoothing over about five lines: half of a line's noise, a twentieth of a second late. */
  private static final double SMOOTHING = 0.35;

  /** Pulled up by more than this is a magnet held the wrong way round. */
  private static final double RISE_TESLA = 6 * GAUSS;

  /** Fallen back below this part of its greatest, the approach is over: the hand has gone. */
  private static final double WITHDRAWN = 0.6;

  /** Pulls smaller than this part of what was asked are no approach yet. */
  private static final double WITHDRAWN_FROM = 0.4;

  /** Of the pull that surely was stray field, how much must be gone. */
  private static final double GONE = 0.7;

  /** Of an approach's pull surely stray field, when no approach was before it. */
  private static final double SURELY_STRAY = 0.15;

  private static final double RISE_GONE = 0.5;

  static HandStray none(double baseTesla, long nowNs) {
    return new HandStray(baseTesla, 0, 0, 0, nowNs);
  }

  /** With this view's lines. */
  HandStray seen(Hand hand, View view) {
    HandStray now = this;
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.Status status) {
        double pull = baseTesla - hand.pole() * hand.tesla(status);
        now = now.with(pull, received.receivedAtNs());
      }
    }
    return now;
  }

  private HandStray with(double pull, long atNs) {
    double smooth = pullTesla + SMOOTHING * (pull - pullTesla);
    return new HandStray(
        baseTesla, smooth, Math.max(mostTesla, smooth), Math.min(leastTesla, smooth), atNs);
  }

  /** Whether the reading rises instead of falling. */
  boolean rises() {
    return leastTesla < -RISE_TESLA;
  }

  /** Whether the hand has come near and gone again by itself. */
  boolean withdrawn(double stopTesla) {
    return mostTesla > WITHDRAWN_FROM * stopTesla && pullTesla < WITHDRAWN * mostTesla;
  }

  /**
   * Whether the opposing magnet has left. What it took for good stays, so the pull need not go back
   * to nothing: but what earlier approaches had already taken cannot be taken again, so that part
   * of the pull was stray field and must go.
   */
  boolean gone(HandProgress progress) {
    if (rises()) {
      return pullTesla > RISE_GONE * leastTesla;
    }
    double before =
        progress.passes().stream().mapToDouble(HandProgress.Pass::nearTesla).max().orElse(0);
    double stray = Math.max(SURELY_STRAY * mostTesla, Math.min(mostTesla, before));
    return mostTesla - pullTesla >= GONE * stray;
  }

  /** How the approach went. */
  HandReached reached(double stopTesla) {
    return new HandReached(stopTesla, mostTesla);
  }
}
