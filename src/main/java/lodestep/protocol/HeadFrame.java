package lodestep.protocol;

/**
 * One line from the head, decoded. Any thread, immutable.
 *
 * <p>All figures are the wire's scaled integers, named with their unit; calibration of Hall counts
 * to tesla is the host's. {@code bootId} (0 to 65535) changes with every start of the head, so a
 * frame from before a reboot can never pass for a fresh one.
 */
public sealed interface HeadFrame {

  /** Identity of the head's present run, 0 to 65535. */
  int bootId();

  /**
   * The state line, sent 100 times a second.
   *
   * @param sequence counts status lines, wraps at 65535
   * @param clockMs the head's own monotonic clock since boot, in milliseconds
   * @param sampleCounter counts Hall conversions modulo 256; a standing counter is a frozen gauge
   * @param hallCounts signed Hall reading in raw converter counts
   * @param gaugeCentiDegC temperature at the gauge, in hundredths of a degree Celsius
   * @param coilCentiDegC temperature of the coil, in hundredths of a degree Celsius
   * @param bankMilliVolts bank voltage in millivolts
   * @param coilMilliAmps coil current now in milliamperes; positive drives the face north
   * @param positionMicroMetres jig position from home in micrometres; zero on a rig with no jig
   * @param flags bits of {@link HeadFlag}
   */
  record Status(
      int sequence,
      int bootId,
      long clockMs,
      int sampleCounter,
      int hallCounts,
      int gaugeCentiDegC,
      int coilCentiDegC,
      int bankMilliVolts,
      int coilMilliAmps,
      int positionMicroMetres,
      int flags)
      implements HeadFrame {

    /** Whether the flag is raised in this line. */
    public boolean has(HeadFlag flag) {
      return (flags & flag.bit()) != 0;
    }
  }

  /**
   * What the head measured of one pulse; sent once after it, and again when asked by number.
   *
   * @param intentNumber the ledger number of the intent this pulse served
   * @param token the single-use token that opened the window
   * @param peakForwardMilliAmps largest current that drives the face north, &ge; 0
   * @param peakReverseMilliAmps largest current of the other sign, &ge; 0
   * @param bankBeforeMilliVolts bank voltage as the switch closed
   * @param bankAfterMilliVolts bank voltage as the window closed
   * @param durationMicros time from the switch closing to current zero, in microseconds
   * @param fired whether {@code coil_fire} was seen high inside the window
   */
  record PulseReport(
      int bootId,
      long intentNumber,
      int token,
      int peakForwardMilliAmps,
      int peakReverseMilliAmps,
      int bankBeforeMilliVolts,
      int bankAfterMilliVolts,
      int durationMicros,
      boolean fired)
      implements HeadFrame {}

  /**
   * Answer to a request for a token: good for one window, for 500 ms of the head's clock.
   *
   * @param token never zero, never given twice in one boot
   */
  record TokenGrant(int bootId, int token, long intentNumber) implements HeadFrame {}

  /** The head declined a request, and why. */
  record Refused(int bootId, RefusalReason reason, long intentNumber) implements HeadFrame {}

  /**
   * Who the head is; sent at boot and when asked.
   *
   * @param serialNumber printable, at most 16 characters, no blanks
   * @param protocolVersion must equal {@link #PROTOCOL_VERSION}
   * @param firmwareVersion printable, at most 12 characters, no blanks
   * @param watchdogProven whether the boot self-test saw the watchdog reset the head
   */
  record Hello(
      int bootId,
      String serialNumber,
      int protocolVersion,
      String firmwareVersion,
      boolean watchdogProven)
      implements HeadFrame {}

  /**
   * The figures of the rig that the head was built with; sent after each {@link Hello}. A head with
   * others than {@code rig.toml} has is refused: it would step the jig by another screw, or let go
   * at another temperature. All four figures of the jig are zero in a head without one.
   *
   * @param pitchNanoMetres way of one turn of the jig's screw
   * @param stepsPerTurn of its motor, as the driver is set
   * @param travelMicroMetres from the home switch to the far switch
   * @param microMetresPerSecond the carriage's fastest
   * @param windowMillis longest fire window
   * @param bankCapMilliVolts above this no permit and no window
   * @param coilCentiDegCMax the coil stays below this, or no permit
   */
  record Build(
      int bootId,
      int pitchNanoMetres,
      int stepsPerTurn,
      int travelMicroMetres,
      int microMetresPerSecond,
      int windowMillis,
      int bankCapMilliVolts,
      int coilCentiDegCMax)
      implements HeadFrame {}

  /** Version of the line protocol this host speaks; a head of another version is refused. */
  int PROTOCOL_VERSION = 3;

  /** Longest line on the wire in bytes, line end included; 115,200 baud carries 115 at 100 Hz. */
  int LINE_BYTES_MAX = 100;

  /** Longest serial number of a head, in characters. */
  int SERIAL_CHARACTERS_MAX = 16;

  /** Longest firmware version of a head, in characters. */
  int FIRMWARE_CHARACTERS_MAX = 12;
}
