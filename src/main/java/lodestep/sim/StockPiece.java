package lodestep.sim;

import java.util.List;
import java.util.SplittableRandom;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.MagnetModel;
import lodestep.magnet.Shape;

/**
 * One magnet of the virtual stock, as a description from which any process makes the same magnet.
 * Any thread, immutable.
 *
 * @param alloy one of the standard book's names
 * @param shape nominal shape and sizes
 * @param northUp whether its north face is the one that will look at the strings
 * @param charged whether it has been charged before it came to the bench
 * @param lotSeed the lot's figures are drawn from here
 * @param ownSeed its own figures are drawn from here
 * @param nest name of the nest it belongs in
 * @param earlier pulses it has had at the bench before, oldest first
 */
public record StockPiece(
    String alloy,
    Shape shape,
    boolean northUp,
    boolean charged,
    long lotSeed,
    long ownSeed,
    String nest,
    List<EarlierPulse> earlier) {

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

  /**
   * Makes the magnet.
   *
   * @throws IllegalArgumentException if the book has no such alloy
   */
  public VirtualOperator.Piece made() {
    Alloy known =
        AlloyBook.standard()
            .find(alloy)
            .orElseThrow(() -> new IllegalArgumentException("no alloy '" + alloy + "'"));
    VirtualMagnet.Lot lot = VirtualMagnet.Lot.drawn(known, new SplittableRandom(lotSeed));
    VirtualMagnet magnet = VirtualMagnet.of(lot, shape, northUp, new SplittableRandom(ownSeed));
    if (charged) {
      charge(magnet, known);
    }
    earlier.forEach(
        pulse -> magnet.applyPulse(pulse.northAperM(), pulse.southAperM(), pulse.northFirst()));
    return new VirtualOperator.Piece(magnet, nest);
  }

  private void charge(SeatedMagnet magnet, Alloy known) {
    double peak =
        MagnetModel.of(known, shape).saturatingApplied(known.saturatingField()).amperesPerMetre();
    magnet.applyPulse(northUp ? peak : 0, northUp ? 0 : peak, northUp);
  }
}
