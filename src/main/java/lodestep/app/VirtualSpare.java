package lodestep.app;

import java.util.List;
import java.util.SplittableRandom;
import lodestep.bench.Lots;
import lodestep.config.RigConfig;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualOperator;

/**
 * Magnets beside a virtual rig at which no work is under way, to try the live reading with: charged
 * either way, and knocked down by fields that are drawn. None is on record. Confined to the rig's
 * thread.
 */
final class VirtualSpare {

  private static final String ALLOY = "alnico 5";

  /** From next to nothing to most of the charge, of the alloy above; A/m. */
  private static final double LEAST_FIELD = 5e3;

  private static final double MOST_FIELD = 32e3;

  private final RigConfig rig;
  private final long lotSeed;
  private final SplittableRandom random;

  /**
   * @param seed of what is drawn
   */
  VirtualSpare(RigConfig rig, long seed) {
    this.rig = rig;
    this.lotSeed = seed;
    this.random = new SplittableRandom(seed);
  }

  /** Another one, for this nest. */
  VirtualOperator.Piece next(String nest) {
    boolean north = random.nextBoolean();
    double field = random.nextDouble(LEAST_FIELD, MOST_FIELD);
    StockPiece.EarlierPulse down =
        new StockPiece.EarlierPulse(north ? 0 : field, north ? field : 0, north);
    StockPiece piece =
        new StockPiece(
            ALLOY,
            HeadDesk.shown(rig.nest(nest).shape()),
            north,
            true,
            lotSeed,
            random.nextLong(),
            nest,
            List.of(down));
    return StockPiece.made(List.of(piece), Lots.of(rig), Lots.element(rig)).get(0);
  }
}
