package lodestep.adapter.serial;

/**
 * How long to wait before the next try to open the port: doubles from a quarter of a second to five
 * seconds. Any thread, immutable.
 *
 * @param waitNs the wait before the next try, in nanoseconds
 */
record BackOff(long waitNs) {

  private static final long FIRST_NS = 250_000_000L;
  private static final long LONGEST_NS = 5_000_000_000L;

  /** The wait after the first failure. */
  static BackOff first() {
    return new BackOff(FIRST_NS);
  }

  /** The wait after one failure more. */
  BackOff next() {
    return new BackOff(Math.min(2 * waitNs, LONGEST_NS));
  }
}
