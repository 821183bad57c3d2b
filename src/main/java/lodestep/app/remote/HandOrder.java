package lodestep.app.remote;

import java.util.List;
import java.util.function.Supplier;
import lodestep.magnet.AlloyBook;
import lodestep.port.HandCue;
import lodestep.quantity.Length;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualHand;
import lodestep.sim.VirtualRig;

/**
 * A virtual head with a hand beside it, as a description from which any process makes the same. Any
 * thread, immutable.
 *
 * @param nest the nest that is mounted
 * @param seed everything is drawn from here
 * @param pieces what the hand puts into the nest, in this order
 * @param jawAmperesPerMetre field between the jaws, first charge first; the last stays
 * @param workHeightMicroMetres of the pieces along their axis
 * @param slowMillis by how much longer than usual the hand takes to hear "stop", approach by
 *     approach; none is left after the last
 */
public record HandOrder(
    String nest,
    long seed,
    List<StockPiece> pieces,
    List<Double> jawAmperesPerMetre,
    long workHeightMicroMetres,
    List<Long> slowMillis) {

  public HandOrder {
    pieces = List.copyOf(pieces);
    jawAmperesPerMetre = List.copyOf(jawAmperesPerMetre);
    slowMillis = List.copyOf(slowMillis);
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
    return new VirtualHand(
        rig,
        StockPiece.made(pieces, book),
        new VirtualHand.Bench(
            jawAmperesPerMetre, new Length(workHeightMicroMetres * 1e-6), slowMillis),
        cues,
        goOn,
        seed ^ 0x2545f4914f6cdd1dL);
  }
}
