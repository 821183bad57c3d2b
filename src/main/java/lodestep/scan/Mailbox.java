package lodestep.scan;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.atomic.AtomicBoolean;
import lodestep.port.Command;

/**
 * What people ask, from any thread to the control thread. The stop is a flag of its own: it waits
 * in no queue and cannot be crowded out.
 */
final class Mailbox {

  /** Nobody presses buttons faster than scans run; more than this is a runaway client. */
  static final int ROOM = 16;

  private final AtomicBoolean stop = new AtomicBoolean();
  private final BlockingQueue<Command> commands = new ArrayBlockingQueue<>(ROOM);

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
