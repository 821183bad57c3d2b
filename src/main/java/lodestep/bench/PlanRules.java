package lodestep.bench;

import lodestep.config.RigConfig;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.MagnetModel;

/**
 * What a plan is held against: this rig, the alloys known, what a magnet takes and what the gauge
 * can tell. Any thread, immutable.
 */
public record PlanRules(
    RigConfig rig, AlloyBook alloys, FullCharge fullCharge, TightestTolerance tightest) {

  /** For a rig with the alloys and the magnet model that come with the program. */
  public static PlanRules of(RigConfig rig, TightestTolerance tightest) {
    return new PlanRules(rig, AlloyBook.standard(), MagnetModel::chargedFaceField, tightest);
  }
}
