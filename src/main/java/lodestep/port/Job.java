package lodestep.port;

/**
 * What the rig is doing, as an immutable state: one transition a scan. Pure and total: defined for
 * every view; time enters in the view.
 */
@FunctionalInterface
public interface Job {

  /** What follows from this view, and the job in its next state. */
  JobStep step(View view);

  /** Ledger number of the magnet in the nest, to which a trip is booked; 0 while there is none. */
  default long magnet() {
    return 0;
  }

  /** Whether another job may take its place: it drives nothing and waits for nothing. */
  default boolean rests() {
    return false;
  }
}
