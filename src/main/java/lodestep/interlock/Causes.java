package lodestep.interlock;

import lodestep.port.TripCause;

/** Sets of causes as bits, one for each, in the order of {@link TripCause}. */
final class Causes {

  private static final TripCause[] IN_ORDER = TripCause.values();

  private Causes() {}

  static long when(boolean present, TripCause cause) {
    return present ? bit(cause) : 0;
  }

  static long bit(TripCause cause) {
    return 1L << cause.ordinal();
  }

  static boolean has(long bits, TripCause cause) {
    return (bits & bit(cause)) != 0;
  }

  /**
   * The one to name when several come in the same scan. The order of the list puts what a person
   * did before what the rig did about it. After a late scan all that the head said is old, so the
   * lateness is the cause and not its silence; and a permit withdrawn together with something that
   * is known is withdrawn because of it.
   *
   * @param bits at least one
   */
  static TripCause first(long bits) {
    long known = bits & ~bit(TripCause.PERMIT_LOST);
    TripCause first = IN_ORDER[Long.numberOfTrailingZeros(known == 0 ? bits : known)];
    boolean late = has(bits, TripCause.SCAN_LATE);
    return late && first.compareTo(TripCause.HEAD_SILENT) >= 0 ? TripCause.SCAN_LATE : first;
  }
}
