package lodestep.app.remote;

import lodestep.port.HandAsk;
import lodestep.port.HandCue;

/** A cue as an order to the rig's process, and back. Pure. */
final class HandCues {

  private static final double MILLIONTHS = 1e6;

  private HandCues() {}

  static String order(HandCue cue) {
    return "cue " + cue.ask().name() + " " + Math.round(cue.closeness() * MILLIONTHS);
  }

  /** Reads the words of what {@link #order} wrote. */
  static HandCue read(String[] words) {
    return new HandCue(HandAsk.valueOf(words[1]), Long.parseLong(words[2]) / MILLIONTHS);
  }
}
