package lodestep.soak;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualRig;

/**
 * Everything that happens in one run beside the work itself. Any thread, immutable.
 *
 * @param healMs when all that is broken is mended, in milliseconds since the rig was switched on
 * @param happenings in the order they begin
 */
public record Script(long healMs, List<Happening> happenings) {

  private static final long NS_PER_MS = 1_000_000L;

  public Script {
    List<Happening> sorted = new ArrayList<>(happenings);
    sorted.sort(Comparator.comparingLong(Happening::atMs));
    happenings = List.copyOf(sorted);
  }

  /** The faults among them for the virtual rig, each mended at {@link #healMs} at the latest. */
  FaultPlan faults() {
    FaultPlan plan = FaultPlan.NONE;
    for (Happening each : happenings) {
      if (each.atMs() < healMs) {
        long fromNs = ns(each.atMs());
        long untilNs = ns(Math.min(each.untilMs(), healMs));
        if (each.fault().isPresent()) {
          plan = plan.with(each.fault().get(), fromNs, untilNs);
        } else if (each.kind() == HappeningKind.POWER_CUT) {
          plan =
              plan.with(new Fault.HeadDown(), fromNs, untilNs)
                  .with(new Fault.SupplyWrong(0), fromNs, untilNs);
        }
      }
    }
    return plan;
  }

  private static long ns(long ms) {
    return VirtualRig.START_NS + ms * NS_PER_MS;
  }

  /** The same with other happenings. */
  Script with(List<Happening> others) {
    return new Script(healMs, others);
  }

  /** The same, mended at another time. */
  Script healedAt(long ms) {
    return new Script(ms, happenings);
  }
}
