package lodestep.app;

import java.util.List;
import lodestep.app.remote.HandOrder;
import lodestep.bench.GuidedStudy;
import lodestep.config.NestConfig;
import lodestep.magnet.Shape;
import lodestep.sim.StockPiece;

/** The magnets of a guided study on the virtual rig: one of a name is the same each time. */
final class VirtualStudy {

  private static final String ALLOY = "alnico 3";

  /** They are knocked down by up to this, so that a study's magnets differ; in A/m. */
  private static final int DOWN_MAX = 14_000;

  private VirtualStudy() {}

  /**
   * A virtual hand that seats what the study asks for.
   *
   * @param done how many seatings are on record
   */
  static HandOrder order(GuidedStudy study, NestConfig nest, int done, long seed) {
    Shape shape = HeadDesk.shown(nest.shape());
    List<StockPiece> pieces =
        study.seatingsIn(nest.name()).stream()
            .skip(done)
            .map(seating -> piece(seating.magnet(), nest, shape))
            .toList();
    // The rig is the same when a study goes on, but nobody seats a magnet the same way twice.
    return new HandOrder(
        nest.name(),
        seed,
        pieces,
        List.of(),
        shape.height().microMetres(),
        List.of(),
        31 * seed + done,
        List.of());
  }

  private static StockPiece piece(String magnet, NestConfig nest, Shape shape) {
    double down = Math.floorMod(31 * magnet.hashCode(), DOWN_MAX);
    return new StockPiece(
        ALLOY,
        shape,
        true,
        true,
        nest.name().hashCode(),
        magnet.hashCode(),
        nest.name(),
        List.of(new StockPiece.EarlierPulse(0, down, false)));
  }
}
