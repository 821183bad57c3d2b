package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import lodestep.app.remote.HandOrder;
import lodestep.bench.Lots;
import lodestep.cli.PaperWork;
import lodestep.cli.Refusal;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.RecordedShape;
import lodestep.magnet.Shape;
import lodestep.paper.ReturnCase;
import lodestep.quantity.FluxDensity;
import lodestep.sim.StockPiece;

/**
 * A pickup for the virtual rig: the hand lays one pole after the other over the gauge, and each is
 * the magnet that is on record for it, at the level it was accepted at. Where none is on record, a
 * magnet of our own.
 */
record VirtualPickup(RigConfig rig, HandOrder order) {

  /** The same for a rig that runs; its seat has a name of its own, so that a nest is put back. */
  static VirtualHands.Laid laid(PaperWork.PoleRun run) {
    VirtualPickup made = of(run);
    NestConfig nest = nest(run);
    return new VirtualHands.Laid(
        new NestConfig("pickup at the gauge", nest.shape(), run.seat().spacer(), nest.coil()),
        StockPiece.made(made.order().pieces(), Lots.of(run.rig()), Lots.element(run.rig())));
  }

  private static final String ALLOY = "alnico 5";
  private static final FluxDensity LEVEL = FluxDensity.ofGauss(390);

  /** The pickup, and the rig with its gauge at the spacer's distance. */
  static VirtualPickup of(PaperWork.PoleRun run) {
    NestConfig nest = nest(run);
    RigConfig rig =
        run.rig().with(new NestConfig(nest.name(), nest.shape(), run.seat().spacer(), nest.coil()));
    List<StockPiece> pieces = new ArrayList<>();
    long height = 0;
    for (int pole = 0; pole < run.built().poles(); pole++) {
      VirtualLevel level = level(run, nest, pole);
      pieces.add(
          level
              .piece(rig, nest.name(), run.sinceAmperesPerMetre())
              .orElseThrow(
                  () ->
                      new Refusal(
                          "the virtual rig has no "
                              + level.alloy()
                              + " "
                              + level.shape().words()
                              + " that reads "
                              + level.level().inGauss())));
      height = level.shape().height().microMetres();
    }
    return new VirtualPickup(
        rig,
        new HandOrder(nest.name(), run.seed(), pieces, List.of(VirtualLevel.FIELD_MAX), height));
  }

  private static NestConfig nest(PaperWork.PoleRun run) {
    String shape =
        run.magnets().stream()
            .findFirst()
            .map(magnet -> kindOf(magnet.identity().shape()))
            .orElse("rod");
    return run.rig().nests().stream()
        .filter(nest -> nest.shape().equals(shape))
        .findFirst()
        .orElse(run.rig().nests().get(0));
  }

  /** "bar" of "bar through its width". */
  private static String kindOf(String shape) {
    int space = shape.indexOf(' ');
    return space < 0 ? shape : shape.substring(0, space);
  }

  private static VirtualLevel level(PaperWork.PoleRun run, NestConfig nest, int pole) {
    List<ReturnCase.Magnet> magnets = run.magnets();
    if (magnets.isEmpty()) {
      return new VirtualLevel(
          ALLOY,
          HeadDesk.shown(nest.shape()),
          LEVEL,
          nest.standOff(),
          seeds(run.built().name(), pole));
    }
    ReturnCase.Magnet magnet = magnets.get(Math.min(pole, magnets.size() - 1));
    Shape shape =
        RecordedShape.find(magnet.identity()).orElseGet(() -> HeadDesk.shown(nest.shape()));
    return new VirtualLevel(
        magnet.identity().alloy(),
        shape,
        magnet.level(),
        magnet.standOff(),
        seeds(magnet.identity().name(), 0));
  }

  private static VirtualLevel.Seeds seeds(String name, int pole) {
    return new VirtualLevel.Seeds(name.hashCode(), 31L * name.hashCode() + pole);
  }
}
