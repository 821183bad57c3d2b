package lodestep.interlock;

import java.util.Optional;
import lodestep.config.JigConfig;

/**
 * The jig's figures in the units of the head's lines.
 *
 * @param present whether the rig has a jig; without one the others mean nothing
 * @param pathMicroMetresMax way of one switching-on of the driver, there and back counted
 * @param homingMicroMetresMax the same, for as long as the position is not proven
 */
record JigFigures(
    boolean present,
    int parkMicroMetres,
    int travelMicroMetres,
    long pathMicroMetresMax,
    long homingMicroMetresMax) {

  /** A stroke goes there and back and finds its home; ten parts in a hundred more is too far. */
  private static final double PATH_PARTS = 1.1 * 2;

  /** Once along the whole travel and a tenth more: the head then gives up seeking home. */
  private static final double ONCE_PARTS = 1.1;

  /** Finding the home switch takes so much more. */
  private static final long HOMING_MICRO_METRES = 10_000;

  private static final JigFigures NONE = new JigFigures(false, 0, 0, 0, 0);

  static JigFigures of(Optional<JigConfig> jig) {
    return jig.map(JigConfig::screw)
        .map(
            screw ->
                new JigFigures(
                    true,
                    (int) screw.park().microMetres(),
                    (int) screw.travel().microMetres(),
                    Math.round(PATH_PARTS * screw.travel().microMetres()) + HOMING_MICRO_METRES,
                    Math.round(ONCE_PARTS * screw.travel().microMetres())
                        + JigWatch.LEAVES_MICRO_METRES))
        .orElse(NONE);
  }
}
