package lodestep.app;

import java.util.List;
import lodestep.app.remote.HandOrder;
import lodestep.cli.Refusal;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.sim.StockPiece;

/** A reference magnet for the virtual rig, made to read what its certificate says. */
final class VirtualReference {

  private static final String ALLOY = "alnico 5";

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
        nest.name(),
        seed,
        List.of(piece, piece),
        List.of(VirtualLevel.FIELD_MAX),
        shape.height().microMetres());
  }

  /**
   * The magnet of this description, which is charged, knocked down until it reads this.
   *
   * @param tesla without sign, in its nest
   */
  static StockPiece knockedDown(RigConfig rig, StockPiece fresh, double tesla) {
    NestConfig nest = rig.nest(fresh.nest());
    VirtualLevel level =
        new VirtualLevel(
            fresh.alloy(),
            fresh.shape(),
            new FluxDensity(fresh.northUp() ? tesla : -tesla),
            nest.standOff(),
            new VirtualLevel.Seeds(fresh.lotSeed(), fresh.ownSeed()));
    return level
        .piece(rig, nest.name(), 0)
        .orElseThrow(
            () ->
                new Refusal(
                    "the virtual rig has no "
                        + fresh.alloy()
                        + " that reads "
                        + new FluxDensity(tesla).inGauss()
                        + " in the "
                        + nest.name()
                        + "; ask for less, as in a [[reference]] of rig.toml"));
  }
}
