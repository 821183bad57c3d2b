package lodestep.app.remote;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.HallElement;
import lodestep.port.HandCue;
import lodestep.quantity.Length;
import lodestep.sim.LaidMagnet;
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
 * @param layings how each piece is laid down; empty when all lie as for any reading
 */
public record HandOrder(
    String nest,
    long seed,
    List<StockPiece> pieces,
    List<Double> jawAmperesPerMetre,
    long workHeightMicroMetres,
    List<Long> slowMillis,
    long handSeed,
    List<Laying> layings) {

  /**
   * How a piece is laid down.
   *
   * @param alongMicroMetres where the gauge's element is along its edge, from its middle
   * @param otherFace whether the face opposite the one that will look at the strings is read
   */
  public record Laying(long alongMicroMetres, boolean otherFace) {}

  /** Nobody and nothing: beside a real head. */
  public static final HandOrder NOTHING = new HandOrder("", 0, List.of(), List.of(), 0);

  public HandOrder {
    pieces = List.copyOf(pieces);
    jawAmperesPerMetre = List.copyOf(jawAmperesPerMetre);
    slowMillis = List.copyOf(slowMillis);
    layings = List.copyOf(layings);
    if (!layings.isEmpty() && layings.size() != pieces.size()) {
      throw new IllegalArgumentException(
          layings.size() + " layings of " + pieces.size() + " pieces");
    }
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
        seed ^ 0x2545f4914f6cdd1dL,
        List.of());
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
   * @param element of the rig's gauge
   * @param cues what is asked of it now
   * @param goOn where it says that a thing is done
   */
  public VirtualHand hand(
      VirtualRig rig, AlloyBook book, HallElement element, Supplier<HandCue> cues, Runnable goOn) {
    List<StockPiece> different = pieces.stream().distinct().toList();
    List<VirtualOperator.Piece> made = StockPiece.made(different, book, element);
    List<VirtualOperator.Piece> inOrder = new ArrayList<>();
    for (int at = 0; at < pieces.size(); at++) {
      VirtualOperator.Piece piece = made.get(different.indexOf(pieces.get(at)));
      inOrder.add(layings.isEmpty() ? piece : laid(piece, layings.get(at)));
    }
    return new VirtualHand(
        rig,
        inOrder,
        new VirtualHand.Bench(
            jawAmperesPerMetre, new Length(workHeightMicroMetres * 1e-6), slowMillis),
        cues,
        goOn,
        handSeed);
  }

  private static VirtualOperator.Piece laid(VirtualOperator.Piece piece, Laying laying) {
    return LaidMagnet.of(piece, laying.alongMicroMetres() * 1e-6, laying.otherFace());
  }
}
