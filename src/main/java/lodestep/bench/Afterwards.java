package lodestep.bench;

import lodestep.port.Command;
import lodestep.port.View;

/** What a person has asked to follow once the magnet in the nest has its verdict. */
enum Afterwards {
  /** The next magnet. */
  GO_ON(""),
  /** A wait, until a person says "go on". */
  PAUSE("; pauses after this magnet"),
  /** The end of the batch. */
  END("; the batch ends after this magnet");

  private final String words;

  Afterwards(String words) {
    this.words = words;
  }

  /** Goes on the end of a sentence; empty when nothing was asked. */
  String words() {
    return words;
  }

  /** With what is asked in this view; an end is not taken back. */
  Afterwards seen(View view) {
    if (this == END || view.commands().contains(Command.FINISH)) {
      return END;
    }
    return Steps.paused(this == PAUSE, view) ? PAUSE : GO_ON;
  }
}
