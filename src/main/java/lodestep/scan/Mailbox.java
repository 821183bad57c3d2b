package lodestep.scan;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.BooleanSupplier;
import lodestep.port.Command;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.View;
import org.jspecify.annotations.Nullable;

/**
 * What people ask, from any thread to the control thread. The stop is a flag of its own: it waits
 * in no queue and cannot be crowded out.
 */
final class Mailbox {

  /** Nobody presses buttons faster than scans run; more than this is a runaway client. */
  static final int ROOM = 16;

  private static final Job CLAIMED = new Claimed();

  private final AtomicBoolean stop = new AtomicBoolean();
  private final BlockingQueue<Command> commands = new ArrayBlockingQueue<>(ROOM);

  /** The job that is to follow a job at rest; at most one waits. */
  private final AtomicReference<@Nullable Job> next = new AtomicReference<>();

  private @Nullable Job taken;
  private volatile @Nullable Job followed;

  /** Whether there was room for it: false while another one waits. */
  boolean offer(Job job) {
    return next.compareAndSet(null, job);
  }

  /**
   * Has this job follow the one at rest.
   *
   * @param rests whether the newest published job rests
   * @return false while it does not, or while another one waits
   */
  boolean begin(Job job, BooleanSupplier rests) {
    if (!rests.getAsBoolean() || !offer(job)) {
      return false;
    }
    // Another one may have been followed between the look and the offer; this one then has nothing
    // at rest to follow, and whoever asked must not be told that it begins.
    return rests.getAsBoolean() || !takeBack(job);
  }

  /**
   * Takes back a job that was offered, for whoever learns afterwards that it had nothing at rest to
   * follow.
   *
   * @return whether it will never be begun; false when it was followed already
   */
  boolean takeBack(Job job) {
    return next.compareAndSet(job, null) || followed != job;
  }

  /** The job that follows this one: the one that waits, if this one rests. Control thread only. */
  Job follow(Job present) {
    taken = next.get();
    if (taken == null || !present.rests()) {
      return present;
    }
    Job waits = taken;
    // Before it is claimed: whoever cannot take it back any more must see that it was followed.
    followed = waits;
    if (!next.compareAndSet(waits, CLAIMED)) {
      return present;
    }
    taken = CLAIMED;
    return waits;
  }

  /** Room for another one; what was not taken up is gone. Control thread only. */
  void makeRoom() {
    if (taken != null) {
      next.compareAndSet(taken, null);
    }
  }

  /** Stands in the place of a job that has been followed, until its scan is published. */
  private record Claimed() implements Job {
    @Override
    public JobStep step(View view) {
      throw new IllegalStateException("nobody steps what only keeps a place");
    }
  }

  void askStop() {
    stop.set(true);
  }

  boolean offer(Command command) {
    if (command == Command.STOP) {
      askStop();
      return true;
    }
    return commands.offer(command);
  }

  /** Whether a stop was asked since the last call. */
  boolean takeStop() {
    return stop.get() && stop.getAndSet(false);
  }

  /** All commands since the last call, oldest first. */
  List<Command> take() {
    if (commands.isEmpty()) {
      return List.of();
    }
    List<Command> taken = new ArrayList<>();
    commands.drainTo(taken);
    return List.copyOf(taken);
  }
}
