package lodestep.protocol;

/**
 * The fields of a line with the range each may have on the wire. Writer and decoder both hold to
 * it, and so does {@code firmware-host/PROTOCOL.md}. Ranges are set by converters, by counters, and
 * for the rest by a number of digits, so that a small head can check them without wide arithmetic.
 */
public enum WireField {
  /** Counts status lines or heartbeats; after the largest comes zero. */
  SEQUENCE(0, 65_535),
  /** The head's present run. */
  BOOT_ID(0, 65_535),
  /** One start of the host. */
  SESSION(1, 65_535),
  /** Head's clock since boot in milliseconds; thirteen digits last for three hundred years. */
  CLOCK_MS(0, 9_999_999_999_999L),
  /** Hall conversions modulo 256. */
  SAMPLE_COUNTER(0, 255),
  /** A 24-bit converter, signed. */
  HALL_COUNTS(-8_388_608, 8_388_607),
  /** A 16-bit temperature in hundredths of a degree; the ends mean a broken sensor. */
  CENTI_DEG_C(-32_768, 32_767),
  /** Bank voltage; may be a little below zero by noise and offset of the converter. */
  BANK_MILLI_VOLTS(-9_999, 99_999),
  /** Coil current, signed. */
  COIL_MILLI_AMPS(-999_999, 999_999),
  /** Jig position from home, signed, up to a metre. */
  POSITION_MICRO_METRES(-999_999, 999_999),
  /** Bits of {@link HeadFlag} as four hex digits; undefined bits are zero. */
  FLAGS(0, flagsMax()),
  /** Ledger number of an intent. */
  INTENT_NUMBER(1, 999_999_999_999_999_999L),
  /** Ledger number of an intent, or zero: the line belongs to none. */
  INTENT_NUMBER_OR_NONE(0, 999_999_999_999_999_999L),
  /** Single-use token. */
  TOKEN(1, 2_147_483_647),
  /** Largest current of one sign in a pulse. */
  PEAK_MILLI_AMPS(0, 999_999),
  /** Length of a pulse in microseconds. */
  DURATION_MICROS(0, 9_999_999),
  /** One for yes, zero for no. */
  YES_NO(0, 1),
  /** {@link RefusalReason#code()}. */
  REFUSAL_REASON(1, 5),
  /** Version of this protocol. */
  VERSION(0, 65_535),
  /** Way of one turn of the jig's screw; zero without a jig. */
  PITCH_NANO_METRES(0, 9_999_999),
  /** Steps of one turn of the jig's motor; zero without a jig. */
  STEPS_PER_TURN(0, 99_999),
  /** From the jig's home switch to its far switch; zero without a jig. */
  TRAVEL_MICRO_METRES(0, 999_999),
  /** The jig's fastest; zero without a jig. */
  MICRO_METRES_PER_SECOND(0, 99_999),
  /** Longest fire window. */
  WINDOW_MILLIS(0, 9_999),
  /** Highest bank voltage allowed; zero allows none. */
  BANK_MILLI_VOLTS_MAX(0, 99_999);

  private final long smallest;
  private final long largest;

  WireField(long smallest, long largest) {
    this.smallest = smallest;
    this.largest = largest;
  }

  /** The smallest value on the wire. */
  public long smallest() {
    return smallest;
  }

  /** The largest value on the wire. */
  public long largest() {
    return largest;
  }

  /** Whether the value may stand on the wire. */
  public boolean holds(long value) {
    return value >= smallest && value <= largest;
  }

  private static int flagsMax() {
    int all = 0;
    for (HeadFlag flag : HeadFlag.values()) {
      all |= flag.bit();
    }
    return all;
  }
}
