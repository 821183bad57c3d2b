package lodestep.interlock;

import lodestep.port.TripCause;

/** Sets of causes as bits, one for each, in the order of {@link TripCause}. */
final class Causes {

  private static final TripCause[] IN_ORDER = TripCause.values();

  private Causes() {}

  static int when(boolean present, TripCause cause) {
    return present ? bit(cause) : 0;
  }

  static int bit(TripCause cause) {
    return 1 << cause.ordinal();
  }

  static boolean has(int bits, TripCause cause) {
    return (bits & bit(cause)) != 0;
  }

  /**
   * The one to name when several come in the same scan. The order of the list puts what a person
   * did before what the rig did about it. After a late scan all that the head said is old, so the
   * lateness is the cause and not its silence.
   *
   * @param bits at least one
   */
  static TripCause first(int bits) {
    TripCause first = IN_ORDER[Integer.numberOfTrailingZeros(bits)];
    boolean late = has(bits, TripCause.SCAN_LATE);
    return late && first.compareTo(TripCause.HEAD_SILENT) >= 0 ? TripCause.SCAN_LATE : first;
  }
}
