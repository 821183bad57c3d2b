package lodestep.sim;

import java.util.SplittableRandom;

/**
 * A magnet that a hand lays down at one place: at a point of its edge, on one of its faces. Put
 * into the nest, the magnet itself lies so. The plant's thread only.
 *
 * @param magnet the same for all its places
 * @param alongMetres where the gauge's element is along its edge, from its middle
 * @param otherFace whether the face opposite the one that will look at the strings is read
 */
public record LaidMagnet(VirtualMagnet magnet, double alongMetres, boolean otherFace)
    implements SeatedMagnet {

  /**
   * A piece of the stock, laid so.
   *
   * @throws IllegalArgumentException if it is no magnet of this rig's own
   */
  public static VirtualOperator.Piece of(
      VirtualOperator.Piece piece, double alongMetres, boolean otherFace) {
    if (piece.magnet() instanceof VirtualMagnet magnet) {
      return new VirtualOperator.Piece(
          new LaidMagnet(magnet, alongMetres, otherFace), piece.nest());
    }
    throw new IllegalArgumentException("only a virtual magnet can be laid: " + piece);
  }

  @Override
  public void applyPulse(double peakForwardAperM, double peakReverseAperM, boolean forwardFirst) {
    magnet.applyPulse(peakForwardAperM, peakReverseAperM, forwardFirst);
  }

  @Override
  public double faceFieldTesla(double standOffMetres, double temperatureKelvin, long nowNs) {
    return magnet.faceFieldTesla(standOffMetres, temperatureKelvin, nowNs);
  }

  @Override
  public double heightMetres() {
    return magnet.heightMetres();
  }

  @Override
  public void reseat(SplittableRandom random) {
    magnet.layAt(alongMetres, otherFace);
    magnet.reseat(random);
  }

  @Override
  public void turnOver() {
    magnet.turnOver();
  }
}
