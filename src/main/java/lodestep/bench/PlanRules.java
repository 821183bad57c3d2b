package lodestep.bench;

import lodestep.config.RigConfig;
import lodestep.magnet.AlloyBook;

/**
 * What a plan is held against: this rig, the alloys known, what the gauge can tell, and the hand
 * gauges by which targets may be told. Any thread, immutable.
 */
public record PlanRules(
    RigConfig rig, AlloyBook alloys, TightestTolerance tightest, HandGauges handGauges) {

  /**
   * For a rig with the alloys it knows.
   *
   * @throws IllegalArgumentException with one sentence, if a lot in its file cannot be
   */
  public static PlanRules of(RigConfig rig, TightestTolerance tightest) {
    return of(rig, tightest, HandGauges.NONE);
  }

  /**
   * The same, where targets may be told by these hand gauges.
   *
   * @throws IllegalArgumentException with one sentence, if a lot in the rig's file cannot be
   */
  public static PlanRules of(RigConfig rig, TightestTolerance tightest, HandGauges handGauges) {
    return new PlanRules(rig, Lots.of(rig), tightest, handGauges);
  }
}
