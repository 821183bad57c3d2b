package lodestep.app;

import java.util.List;
import lodestep.app.remote.HandOrder;
import lodestep.bench.Lots;
import lodestep.cli.Refusal;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.sim.StockPiece;

/** A reference magnet for the virtual rig, made to read what its certificate says. */
final class VirtualReference {

  private static final String ALLOY = "alnico 5";
  private static final double ROOM_KELVIN = 293.15;
  private static final double FIELD_MAX = 200e3;
  private static final int HALVINGS = 18;

  private VirtualReference() {}

  /** A virtual reference magnet: charged, and knocked down to what its certificate says. */
  static HandOrder order(RigConfig rig, ReferenceConfig reference, long seed) {
    NestConfig nest = rig.nest(reference.nest());
    Shape shape = HeadDesk.shown(nest.shape());
    StockPiece fresh =
        new StockPiece(
            ALLOY,
            shape,
            reference.value().tesla() > 0,
            true,
            reference.name().hashCode(),
            reference.nest().hashCode(),
            reference.nest(),
            List.of());
    // It is read as found and, if need be, as left.
    StockPiece piece = knockedDown(rig, fresh, reference.value().magnitude().tesla());
    return new HandOrder(
        nest.name(), seed, List.of(piece, piece), List.of(FIELD_MAX), shape.height().microMetres());
  }

  /**
   * The magnet of this description, which is charged, knocked down until it reads this.
   *
   * @param tesla without sign, in its nest
   */
  static StockPiece knockedDown(RigConfig rig, StockPiece fresh, double tesla) {
    NestConfig nest = rig.nest(fresh.nest());
    FaceModel kind = FaceModel.of(Lots.of(rig).find(fresh.alloy()).orElseThrow(), fresh.shape());
    double least = 0;
    double most = FIELD_MAX;
    if (reads(kind, down(fresh, 0), nest) < tesla) {
      throw new Refusal(
          "the virtual rig has no "
              + fresh.alloy()
              + " that reads "
              + new FluxDensity(tesla).inGauss()
              + " in the "
              + nest.name()
              + "; ask for less, as in a [[reference]] of rig.toml");
    }
    for (int halving = 0; halving < HALVINGS; halving++) {
      double middle = (least + most) / 2;
      boolean strong = reads(kind, down(fresh, middle), nest) > tesla;
      least = strong ? middle : least;
      most = strong ? most : middle;
    }
    return down(fresh, least);
  }

  private static StockPiece down(StockPiece fresh, double downAperM) {
    boolean north = fresh.northUp();
    StockPiece.EarlierPulse down =
        new StockPiece.EarlierPulse(north ? 0 : downAperM, north ? downAperM : 0, north);
    return new StockPiece(
        fresh.alloy(),
        fresh.shape(),
        north,
        true,
        fresh.lotSeed(),
        fresh.ownSeed(),
        fresh.nest(),
        downAperM == 0 ? List.of() : List.of(down));
  }

  private static double reads(FaceModel kind, StockPiece piece, NestConfig nest) {
    double tesla =
        piece.made(kind).magnet().faceFieldTesla(nest.standOff().metres(), ROOM_KELVIN, 0);
    // Along the charge: what is knocked down beyond zero reads less, not more.
    return piece.northUp() ? tesla : -tesla;
  }
}
