package lodestep.app;

/** Time for the control loop: what it is now, and waiting for what it shall be. */
interface Pace {

  /** Monotonic time, in nanoseconds. */
  long nowNs();

  /** Returns at this monotonic time or after it; at once when it has passed. */
  void until(long atNs);
}
