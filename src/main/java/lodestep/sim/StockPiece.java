package lodestep.sim;

import java.util.List;
import java.util.SplittableRandom;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.FaceModels;
import lodestep.magnet.HallElement;
import lodestep.magnet.Shape;
import lodestep.magnet.UnknownAlloy;

/**
 * One magnet of the virtual stock, as a description from which any process makes the same magnet.
 * Any thread, immutable.
 *
 * @param alloy one of the rig's book's names
 * @param shape nominal shape and sizes
 * @param northUp whether its north face is the one that will look at the strings
 * @param charged whether it has been charged before it came to the bench
 * @param lotSeed the lot's figures are drawn from here
 * @param ownSeed its own figures are drawn from here
 * @param nest name of the nest it belongs in
 * @param earlier pulses it has had at the bench before, oldest first
 * @param restedSeconds how long it has lain since, &ge; 0
 */
public record StockPiece(
    String alloy,
    Shape shape,
    boolean northUp,
    boolean charged,
    long lotSeed,
    long ownSeed,
    String nest,
    List<EarlierPulse> earlier,
    double restedSeconds) {

  /**
   * A pulse of an earlier run, to be done to the magnet again.
   *
   * @param northAperM peak that drives the face north, in A/m, &ge; 0
   * @param southAperM peak that drives it south
   * @param northFirst which of the two came first
   */
  public record EarlierPulse(double northAperM, double southAperM, boolean northFirst) {}

  public StockPiece {
    earlier = List.copyOf(earlier);
  }

  /** One that comes to the bench as its newest pulse has left it. */
  public StockPiece(
      String alloy,
      Shape shape,
      boolean northUp,
      boolean charged,
      long lotSeed,
      long ownSeed,
      String nest,
      List<EarlierPulse> earlier) {
    this(alloy, shape, northUp, charged, lotSeed, ownSeed, nest, earlier, 0);
  }

  /**
   * Makes the magnets, in this order, and works each kind out once.
   *
   * @param book of the alloys
   * @param element of the gauge that reads them
   * @throws IllegalArgumentException if the book has no such alloy
   */
  public static List<VirtualOperator.Piece> made(
      List<StockPiece> pieces, AlloyBook book, HallElement element) {
    FaceModels kinds = new FaceModels(element);
    return pieces.stream()
        .map(piece -> piece.made(kinds.of(piece.known(book), piece.shape)))
        .toList();
  }

  /** What nobody at the bench knows the stock has all the same: one of the alloys, by its lot. */
  private Alloy drawn(AlloyBook book) {
    List<Alloy> dialed = book.alloys().stream().filter(alloy -> alloy.family().isDialed()).toList();
    return dialed.get(new SplittableRandom(lotSeed).nextInt(dialed.size()));
  }

  private Alloy known(AlloyBook book) {
    if (UnknownAlloy.isWritten(alloy)) {
      return drawn(book);
    }
    return book.find(alloy)
        .orElseThrow(() -> new IllegalArgumentException("no alloy '" + alloy + "'"));
  }

  /**
   * Makes the magnet.
   *
   * @param kind of its alloy and shape
   */
  public VirtualOperator.Piece made(FaceModel kind) {
    VirtualMagnet.Lot lot = VirtualMagnet.Lot.drawn(kind, new SplittableRandom(lotSeed));
    VirtualMagnet magnet = VirtualMagnet.of(lot, northUp, new SplittableRandom(ownSeed));
    if (charged) {
      double peak = kind.saturating().amperesPerMetre();
      magnet.applyPulse(northUp ? peak : 0, northUp ? 0 : peak, northUp);
    }
    earlier.forEach(
        pulse -> magnet.applyPulse(pulse.northAperM(), pulse.southAperM(), pulse.northFirst()));
    if (restedSeconds > 0) {
      magnet.rest(restedSeconds);
    }
    return new VirtualOperator.Piece(magnet, nest);
  }
}
