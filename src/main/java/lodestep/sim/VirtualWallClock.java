package lodestep.sim;

import java.time.Duration;
import java.time.Instant;
import lodestep.port.MonotonicClock;
import lodestep.port.WallClock;

/** A wall clock that follows virtual time, and jumps when told. Confined to the rig's thread. */
public final class VirtualWallClock implements WallClock {

  private static final long NS_PER_MS = 1_000_000L;

  private final MonotonicClock clock;
  private final long startNs;
  private Instant start;
  private long shownMs = -1;
  private Instant shown;

  /**
   * A wall clock that shows {@code start} now.
   *
   * @param clock whose time it follows, to the millisecond
   */
  public VirtualWallClock(MonotonicClock clock, Instant start) {
    this.clock = clock;
    this.startNs = clock.nowNs();
    this.start = start;
    this.shown = start;
  }

  @Override
  public Instant now() {
    long ms = (clock.nowNs() - startNs) / NS_PER_MS;
    if (ms != shownMs) {
      shownMs = ms;
      shown = start.plusMillis(ms);
    }
    return shown;
  }

  /** Somebody sets the clock; the jump may go either way. */
  public void jump(Duration by) {
    start = start.plus(by);
    shownMs = -1;
  }
}
