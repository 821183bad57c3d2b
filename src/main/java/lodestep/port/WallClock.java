package lodestep.port;

import java.time.Instant;

/** Time for people: a label on records, which may jump. Never decides anything. */
@FunctionalInterface
public interface WallClock {

  /** Now, as the machine believes. */
  Instant now();
}
