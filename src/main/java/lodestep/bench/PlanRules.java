package lodestep.bench;

import lodestep.config.RigConfig;
import lodestep.magnet.AlloyBook;

/**
 * What a plan is held against: this rig, the alloys known and what the gauge can tell. Any thread,
 * immutable.
 */
public record PlanRules(RigConfig rig, AlloyBook alloys, TightestTolerance tightest) {

  /**
   * For a rig with the alloys it knows.
   *
   * @throws IllegalArgumentException with one sentence, if a lot in its file cannot be
   */
  public static PlanRules of(RigConfig rig, TightestTolerance tightest) {
    return new PlanRules(rig, Lots.of(rig), tightest);
  }
}
