package lodestep.sim;

import java.util.ArrayList;
import java.util.List;

/**
 * Which faults a virtual rig has, and when. Any thread, immutable.
 *
 * @param faults in any order; where two contradict each other the later in the list wins
 */
public record FaultPlan(List<Timed> faults) {

  /** Nothing is broken. */
  public static final FaultPlan NONE = new FaultPlan(List.of());

  /**
   * A fault from one moment of virtual monotonic time until another, when it heals by itself.
   *
   * @param untilNs {@link Long#MAX_VALUE} for ever
   */
  public record Timed(Fault fault, long fromNs, long untilNs) {

    /**
     * @throws IllegalArgumentException if it ends before it begins
     */
    public Timed {
      if (untilNs <= fromNs) {
        throw new IllegalArgumentException(
            "fault " + fault + " ends at " + untilNs + " ns, before it begins at " + fromNs);
      }
    }
  }

  public FaultPlan {
    faults = List.copyOf(faults);
  }

  /** This plan and one more fault that stays once it has come. */
  public FaultPlan with(Fault fault, long fromNs) {
    return with(fault, fromNs, Long.MAX_VALUE);
  }

  /** This plan and one more fault for a time. */
  public FaultPlan with(Fault fault, long fromNs, long untilNs) {
    List<Timed> more = new ArrayList<>(faults);
    more.add(new Timed(fault, fromNs, untilNs));
    return new FaultPlan(more);
  }
}
