package lodestep.interlock;

import java.util.ArrayList;
import java.util.List;

/**
 * All that the permission depends on: one truth value for each {@link Condition}. Any thread,
 * immutable.
 *
 * @param metBits the conditions that are met, one bit each; a row is made every scan
 */
public record PermissionRow(int metBits) {

  /** How many rows there are: every combination of every condition. */
  public static final int COUNT = 1 << Condition.values().length;

  /** Nothing is known to be met. */
  public static final PermissionRow NOTHING_MET = new PermissionRow(0);

  /**
   * @throws IllegalArgumentException if a bit stands for no condition
   */
  public PermissionRow {
    if (metBits < 0 || metBits >= COUNT) {
      throw new IllegalArgumentException("no such row: " + metBits + ", rows end at " + COUNT);
    }
  }

  /** Whether the condition is met. */
  public boolean met(Condition condition) {
    return (metBits & condition.bit()) != 0;
  }

  /** The same row with one condition changed. */
  public PermissionRow with(Condition condition, boolean met) {
    return new PermissionRow(met ? metBits | condition.bit() : metBits & ~condition.bit());
  }

  /** Whether all conditions of the mask are met. */
  boolean all(int mask) {
    return (metBits & mask) == mask;
  }

  /** The conditions of the mask that are not met, in the order of {@link Condition}. */
  List<Condition> unmet(int mask) {
    List<Condition> unmet = new ArrayList<>();
    for (Condition condition : Condition.values()) {
      if ((mask & condition.bit()) != 0 && !met(condition)) {
        unmet.add(condition);
      }
    }
    return unmet;
  }
}
