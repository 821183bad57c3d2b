package lodestep.app;

import java.util.List;
import lodestep.app.remote.HandOrder;
import lodestep.cli.Refusal;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.magnet.Shape;
import lodestep.sim.StockPiece;

/** A reference magnet for the virtual rig, made to read what its certificate says. */
final class VirtualReference {

  private static final String ALLOY = "alnico 5";

  private VirtualReference() {}

  /** A virtual reference magnet: charged, and knocked down to what its certificate says. */
  static HandOrder order(RigConfig rig, ReferenceConfig reference, long seed) {
    NestConfig nest = rig.nest(reference.nest());
    Shape shape = HeadDesk.shown(nest.shape());
    VirtualLevel level =
        new VirtualLevel(
            ALLOY,
            shape,
            reference.value(),
            nest.standOff(),
            new VirtualLevel.Seeds(reference.name().hashCode(), reference.nest().hashCode()));
    StockPiece piece =
        level
            .piece(rig, nest.name(), 0)
            .orElseThrow(
                () ->
                    new Refusal(
                        "the virtual rig has no magnet that reads "
                            + reference.value().inGauss()
                            + " in the "
                            + nest.name()
                            + "; write a smaller value into the [[reference]]"));
    // It is read as found and, if need be, as left.
    return new HandOrder(
        nest.name(),
        seed,
        List.of(piece, piece),
        List.of(VirtualLevel.FIELD_MAX),
        shape.height().microMetres());
  }
}
