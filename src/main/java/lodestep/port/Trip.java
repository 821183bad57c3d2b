package lodestep.port;

/**
 * Why everything was let go. The first cause is kept; it is cleared only by the arm key turned off
 * and on at the rig after the cause has gone.
 *
 * @param cause which interlock
 * @param detail the figures seen, in words, for the record; may be empty
 * @param atNs monotonic time of the trip, in nanoseconds
 */
public record Trip(TripCause cause, String detail, long atNs) {}
