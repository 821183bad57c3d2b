package lodestep.adapter.clock;

import java.time.Instant;
import lodestep.port.WallClock;

/** The machine's wall clock; a label only, it may jump. Any thread. */
public final class SystemWallClock implements WallClock {
  @Override
  public Instant now() {
    return Instant.now();
  }
}
