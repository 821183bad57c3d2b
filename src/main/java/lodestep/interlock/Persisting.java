package lodestep.interlock;

/**
 * Something wrong that is borne for a while: a set of bits, and since when at least one of them has
 * been up without a break. Bits that come later than the oldest count from when the oldest has
 * gone, so that relays moving one after another do not add up to a fault.
 *
 * @param bits those that have been up all the time
 * @param sinceNs monotonic time from which they were up; no meaning while there are none
 */
record Persisting(int bits, long sinceNs) {

  static final Persisting NONE = new Persisting(0, 0);

  Persisting step(int upBits, long nowNs) {
    int still = bits & upBits;
    if (still != 0) {
      return still == bits ? this : new Persisting(still, sinceNs);
    }
    return upBits == 0 ? NONE : new Persisting(upBits, nowNs);
  }

  boolean longerThan(long limitNs, long nowNs) {
    return bits != 0 && nowNs - sinceNs > limitNs;
  }
}
