package lodestep.app;

import java.util.Optional;
import lodestep.bench.BatchJob;
import lodestep.scan.ScanCycle;

/** A host with its rig while a batch runs, in virtual time. Confined to one thread. */
interface RunningBatch extends AutoCloseable {

  /** Runs one scan period. */
  void runScan();

  /** Virtual time, in nanoseconds. */
  long nowNs();

  /** The host's cycle. */
  ScanCycle scan();

  /** The batch as it stands. */
  default BatchJob job() {
    return (BatchJob) scan().snapshot().job();
  }

  /** Whether the batch is over. */
  default boolean done() {
    return job() instanceof BatchJob.Done;
  }

  /** Whether nobody is there any more to clear a trip. */
  boolean gaveUp();

  /** Why the rig itself is gone, in one sentence for a person; empty while it is there. */
  default Optional<String> gone() {
    return Optional.empty();
  }

  /**
   * Ends in good order: outputs low, and a last event that says so. For an end that is no failure.
   *
   * @param why half a sentence for the record
   */
  void end(String why);

  @Override
  void close();
}
