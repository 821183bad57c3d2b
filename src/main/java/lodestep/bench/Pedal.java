package lodestep.bench;

import lodestep.port.InputLine;
import lodestep.port.View;

/**
 * The start pedal, of which only a new press counts.
 *
 * @param down whether it was down in the last view
 * @param pressed whether a press waits to be acted on
 * @param pressedAtNs when it was pressed
 */
record Pedal(boolean down, boolean pressed, long pressedAtNs) {

  /**
   * Taken as down at first, so that a pedal held or jammed down from before never starts anything.
   */
  static final Pedal NOT_PRESSED = new Pedal(true, false, 0);

  Pedal seen(View view) {
    boolean now = view.contacts().closed(InputLine.START_PEDAL);
    if (now && !down) {
      return new Pedal(true, true, view.nowNs());
    }
    return now == down ? this : new Pedal(now, pressed, pressedAtNs);
  }

  /** Whether there is a press not older than this. */
  boolean fresh(long nowNs, long lapseNs) {
    return pressed && nowNs - pressedAtNs <= lapseNs;
  }
}
