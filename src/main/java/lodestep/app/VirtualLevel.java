package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Lots;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.sim.StockPiece;

/**
 * A virtual magnet that was charged and knocked down until it reads this, as a description from
 * which any process makes the same. Any thread, immutable.
 *
 * @param level signed
 * @param standOff where it reads so
 */
record VirtualLevel(
    String alloy, Shape shape, FluxDensity level, Length standOff, VirtualLevel.Seeds seeds) {

  /** A field that no magnet here keeps anything against, in A/m. */
  static final double FIELD_MAX = 200e3;

  private static final double ROOM_KELVIN = 293.15;
  private static final int HALVINGS = 18;

  /** Where the figures of its lot and its own are drawn from. */
  record Seeds(long lot, long own) {}

  /**
   * The magnet; empty if its alloy is none, or fully charged it reads less.
   *
   * @param nest it is put in
   * @param sinceAperM an opposing field that it has seen since; 0 for none
   */
  Optional<StockPiece> piece(RigConfig rig, String nest, double sinceAperM) {
    return Lots.of(rig)
        .find(alloy)
        .map(known -> FaceModel.of(known, shape).seenBy(Lots.element(rig)))
        .flatMap(kind -> piece(kind, nest, sinceAperM));
  }

  /** The same, of a kind that is known. */
  Optional<StockPiece> piece(FaceModel kind, String nest, double sinceAperM) {
    if (reads(kind, nest, 0) < Math.abs(level.tesla())) {
      return Optional.empty();
    }
    double least = 0;
    double most = FIELD_MAX;
    for (int halving = 0; halving < HALVINGS; halving++) {
      double middle = (least + most) / 2;
      boolean strong = reads(kind, nest, middle) > Math.abs(level.tesla());
      least = strong ? middle : least;
      most = strong ? most : middle;
    }
    return Optional.of(piece(nest, least, sinceAperM));
  }

  private StockPiece piece(String nest, double downAperM, double sinceAperM) {
    boolean north = level.tesla() > 0;
    List<StockPiece.EarlierPulse> pulses = new ArrayList<>();
    for (double field : new double[] {downAperM, sinceAperM}) {
      if (field > 0) {
        pulses.add(new StockPiece.EarlierPulse(north ? 0 : field, north ? field : 0, north));
      }
    }
    return new StockPiece(alloy, shape, north, true, seeds.lot(), seeds.own(), nest, pulses);
  }

  private double reads(FaceModel kind, String nest, double downAperM) {
    StockPiece piece = piece(nest, downAperM, 0);
    double tesla = piece.made(kind).magnet().faceFieldTesla(standOff.metres(), ROOM_KELVIN, 0);
    // Along the charge: what is knocked down beyond zero reads less, not more.
    return piece.northUp() ? tesla : -tesla;
  }
}
