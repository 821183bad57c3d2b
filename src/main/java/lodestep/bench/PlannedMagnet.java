package lodestep.bench;

import java.util.Optional;
import lodestep.dial.Task;

/**
 * One magnet of a plan. Any thread, immutable.
 *
 * @param row the row that asks for it
 * @param ordinal which of the row's magnets, from 1
 */
public record PlannedMagnet(PlanRow row, int ordinal) {

  /**
   * @throws IllegalArgumentException if the row has no such magnet
   */
  public PlannedMagnet {
    if (ordinal < 1 || ordinal > row.count()) {
      throw new IllegalArgumentException(
          "'" + row.name() + "' has " + row.count() + " magnets, not a number " + ordinal);
    }
  }

  /** Its name, alone in the plan. */
  public String name() {
    return row.nameOf(ordinal);
  }

  /** The set it belongs to. */
  public Optional<String> set() {
    return row.set();
  }

  /** What is to become of it. */
  public Task task() {
    return row.task();
  }
}
