package lodestep.interlock;

/**
 * A bank voltage remembered, to compare a later one with.
 *
 * @param milliVolts what the bank stood at; {@link #NONE} has an impossible figure
 * @param atNs monotonic time, in nanoseconds
 */
record Mark(int milliVolts, long atNs) {

  static final Mark NONE = new Mark(Integer.MIN_VALUE, 0);

  boolean isMade() {
    return milliVolts != Integer.MIN_VALUE;
  }
}
