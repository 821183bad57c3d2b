package lodestep.protocol;

/** One line to the head. Any thread, immutable. */
public sealed interface HeadRequest {

  /**
   * The heartbeat: "this scan ran, on time, and read back right". The permit bit asks for the
   * permit relay; a trip clears the bit, not the heartbeat.
   *
   * @param sequence counts heartbeats, wraps at 65535
   */
  record Heartbeat(int sequence, boolean permit) implements HeadRequest {}

  /** Asks who the head is. */
  record AskHello() implements HeadRequest {}

  /** Asks for a single-use token for the pulse of this intent. */
  record AskToken(long intentNumber) implements HeadRequest {}

  /**
   * Asks for the fire window.
   *
   * @param bankMilliVoltsMax the head refuses while the bank stands above this
   */
  record OpenWindow(int token, long intentNumber, int bankMilliVoltsMax) implements HeadRequest {}

  /** Asks the head to step the jig to a position from home, in micrometres. */
  record MoveTo(int positionMicroMetres) implements HeadRequest {}

  /** Asks for the report of a past pulse, from the head's ring of the last 64. */
  record AskPulse(long intentNumber) implements HeadRequest {}

  /**
   * Stop, as one byte that no line contains, valid anywhere and handled before everything. Two or
   * more bits away from every printable character and six from the line end, so that no single
   * flipped bit of a line makes one.
   */
  byte STOP_BYTE = (byte) 0x95;
}
