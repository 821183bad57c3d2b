package lodestep.app.remote;

import java.util.List;
import java.util.function.Supplier;
import lodestep.magnet.AlloyBook;
import lodestep.port.HandCue;
import lodestep.quantity.Length;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualHand;
import lodestep.sim.VirtualOperator;
import lodestep.sim.VirtualRig;

/**
 * A virtual head with a hand beside it, as a description from which any process makes the same. Any
 * thread, immutable.
 *
 * @param nest the nest that is mounted
 * @param seed everything is drawn from here
 * @param pieces what the hand puts into the nest, in this order; equal ones are one magnet
 * @param jawAmperesPerMetre field between the jaws, first charge first; the last stays
 * @param workHeightMicroMetres of the pieces along their axis
 * @param slowMillis by how much longer than usual the hand takes to hear "stop", approach by
 *     approach; none is left after the last
 * @param handSeed how she seats a magnet, and how quick she is, is drawn from here
 */
public record HandOrder(
    String nest,
    long seed,
    List<StockPiece> pieces,
    List<Double> jawAmperesPerMetre,
    long workHeightMicroMetres,
    List<Long> slowMillis,
    long handSeed) {

  public HandOrder {
    pieces = List.copyOf(pieces);
    jawAmperesPerMetre = List.copyOf(jawAmperesPerMetre);
    slowMillis = List.copyOf(slowMillis);
  }

  /** The hand that belongs to this rig's seed. */
  public HandOrder(
      String nest,
      long seed,
      List<StockPiece> pieces,
      List<Double> jawAmperesPerMetre,
      long workHeightMicroMetres,
      List<Long> slowMillis) {
    this(
        nest,
        seed,
        pieces,
        jawAmperesPerMetre,
        workHeightMicroMetres,
        slowMillis,
        seed ^ 0x2545f4914f6cdd1dL);
  }

  /** A hand as quick as hands are. */
  public HandOrder(
      String nest,
      long seed,
      List<StockPiece> pieces,
      List<Double> jawAmperesPerMetre,
      long workHeightMicroMetres) {
    this(nest, seed, pieces, jawAmperesPerMetre, workHeightMicroMetres, List.of());
  }

  /**
   * The hand beside this rig.
   *
   * @param book of the rig's alloys
   * @param cues what is asked of it now
   * @param goOn where it says that a thing is done
   */
  public VirtualHand hand(VirtualRig rig, AlloyBook book, Supplier<HandCue> cues, Runnable goOn) {
    List<StockPiece> different = pieces.stream().distinct().toList();
    List<VirtualOperator.Piece> made = StockPiece.made(different, book);
    return new VirtualHand(
        rig,
        pieces.stream().map(piece -> made.get(different.indexOf(piece))).toList(),
        new VirtualHand.Bench(
            jawAmperesPerMetre, new Length(workHeightMicroMetres * 1e-6), slowMillis),
        cues,
        goOn,
        handSeed);
  }
}
