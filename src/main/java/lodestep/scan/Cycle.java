package lodestep.scan;

import lodestep.port.Command;
import lodestep.port.Job;

/**
 * A control loop's cycle: one scan after another of the job under way, with whatever the rig has or
 * has not to drive behind it. {@link #run} and {@link #close} belong to the control thread, all
 * else to any.
 */
public interface Cycle extends AutoCloseable {

  /**
   * Runs one scan; never blocks.
   *
   * @param nowNs monotonic time, never less than the last scan's
   */
  void run(long nowNs);

  /** Lets go of everything; no later call energises anything. */
  @Override
  void close();

  /** Asks for a stop: read first in the next scan, past everything queued. */
  void askStop();

  /**
   * Hands a command to the job's next step; a stop takes the way of {@link #askStop}.
   *
   * @return whether there was room for it
   */
  boolean offer(Command command);

  /**
   * Hands over the job that is to follow the one at rest; the next scan steps it.
   *
   * @return false while the present job does not rest, or while another one waits
   */
  boolean begin(Job next);

  /** Where people put entries beside the job. */
  Notes notes();

  /** What the last scan came to. */
  Snapshot snapshot();
}
