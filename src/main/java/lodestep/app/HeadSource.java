package lodestep.app;

import java.util.Optional;
import lodestep.port.HandCue;
import lodestep.port.HeadLink;
import lodestep.port.WallClock;

/** A head with nothing driven: a real one, or a virtual one with somebody beside it. One thread. */
interface HeadSource extends AutoCloseable {

  /** The line to the head. */
  HeadLink link();

  /** The wall clock of its time. */
  WallClock wall();

  /** Its monotonic time, in nanoseconds. */
  long nowNs();

  /** Lets this much time pass, for the head and for whoever is beside it. */
  void advance(long forNs);

  /** Tells whoever is beside a virtual head what is asked; a real person reads it. */
  default void cue(HandCue cue) {
    // Nobody but the reader of the screen.
  }

  /** How often a thing was said to be done in the last {@link #advance}. */
  default int continues() {
    return 0;
  }

  /** Why the head itself is gone, in one sentence for a person; empty while it is there. */
  default Optional<String> gone() {
    return Optional.empty();
  }

  @Override
  void close();
}
