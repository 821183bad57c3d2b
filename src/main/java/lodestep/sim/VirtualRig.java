package lodestep.sim;

import java.util.SplittableRandom;
import java.util.function.Consumer;
import lodestep.config.RigConfig;
import lodestep.protocol.HeadFrame;

/**
 * One virtual rig: plant, head, cable, lines and clock, moved on together in steps of one
 * millisecond. Same configuration, seed and faults: same everything. Confined to one thread.
 */
public final class VirtualRig {

  /** One step of the virtual rig, in nanoseconds. */
  public static final long STEP_NS = 1_000_000L;

  /** Virtual time begins here, not at zero, so that nothing can lean on a zero. */
  public static final long START_NS = 1_000_000_000L;

  private final FaultState faults;
  private final VirtualMonotonicClock clock = new VirtualMonotonicClock(START_NS);
  private final Controls controls = new Controls();
  private final Plant plant;
  private final VirtualHead head;
  private final VirtualHeadLink link;
  private final VirtualLines lines;
  private final RigTruth truth;

  /**
   * A rig just switched on: bank empty, coil at room temperature, lid open, nest empty.
   *
   * @param nestName the nest that is mounted at first
   * @param seed everything the rig draws is drawn from here
   * @throws IllegalArgumentException if the configuration has no such nest
   */
  public VirtualRig(RigConfig config, String nestName, long seed, FaultPlan plan) {
    SplittableRandom random = new SplittableRandom(seed);
    this.faults = new FaultState(plan);
    this.plant = new Plant(config, nestName, controls, drawn(random));
    this.link = new VirtualHeadLink(drawn(random), START_NS);
    Consumer<HeadFrame> cable = link::fromHead;
    this.head = new VirtualHead(plant, config, drawn(random), cable);
    this.lines = new VirtualLines(plant, controls, drawn(random));
    this.truth = new RigTruth(plant, lines, controls, faults);
  }

  private Plant.Drawn drawn(SplittableRandom random) {
    return new Plant.Drawn(random.split(), faults);
  }

  /** One millisecond of everything. */
  public void step() {
    clock.advance(STEP_NS);
    long nowNs = clock.nowNs();
    boolean faultsChanged = faults.advance(nowNs);
    if (faultsChanged) {
      lines.level();
    }
    link.step(nowNs, head);
    plant.step(nowNs, faultsChanged);
    head.step(nowNs);
  }

  /** Whether a fault keeps the host's scans from running now. */
  boolean hostPaused() {
    return faults.hostPaused;
  }

  /** What really stands on it, for whoever judges host and head. */
  public RigTruth truth() {
    return truth;
  }

  /** The rig's clock. */
  public VirtualMonotonicClock clock() {
    return clock;
  }

  /** What a hand can touch. */
  public Controls controls() {
    return controls;
  }

  /** The physical rig behind the ports. */
  public Plant plant() {
    return plant;
  }

  /** The host's end of the cable to the head. */
  public VirtualHeadLink headLink() {
    return link;
  }

  /** The host's wires. */
  public VirtualLines lines() {
    return lines;
  }

  /** The head at the nest. */
  VirtualHead head() {
    return head;
  }
}
