package lodestep.port;

/**
 * Time for control: nanoseconds from an arbitrary origin, never going backwards. Not for labels and
 * not comparable between runs.
 */
@FunctionalInterface
public interface MonotonicClock {

  /** Now, in nanoseconds. */
  long nowNs();
}
