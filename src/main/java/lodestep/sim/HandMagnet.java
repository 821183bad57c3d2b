package lodestep.sim;

import lodestep.magnet.Shape;
import lodestep.quantity.Length;

/**
 * A strong magnet in a hand, above the work and on its axis, like poles facing. Any thread,
 * immutable.
 *
 * <p>Its field is that of a uniformly charged body, on the axis; at the work it is the mean over
 * the work's height, at the gauge what is left beyond the work, which is taken to let it pass.
 *
 * @param shape charged along the axis it shares with the work
 * @param polarisationTesla of its material, &gt; 0
 * @param workHeightMetres height of the work along the axis, &gt; 0
 */
public record HandMagnet(Shape shape, double polarisationTesla, double workHeightMetres) {

  /** Magnetic constant, CODATA 2018 to the digits that matter here, in T m/A. */
  private static final double MU_0 = 1.256637e-6;

  /** Points along the work at which its field is taken. */
  private static final int POINTS = 5;

  /**
   * Mean field over the work in A/m, without sign.
   *
   * @param gapMetres between the two faces, &ge; 0
   */
  double atWork(double gapMetres) {
    double sum = 0;
    for (int i = 0; i < POINTS; i++) {
      sum += tesla(gapMetres + workHeightMetres * (i + 0.5) / POINTS);
    }
    return sum / POINTS / MU_0;
  }

  /** Flux density at a gauge this far below the work, in tesla, without sign. */
  double atGauge(double gapMetres, double standOffMetres) {
    return tesla(gapMetres + workHeightMetres + standOffMetres);
  }

  private double tesla(double metres) {
    return polarisationTesla * shape.faceFieldPerPolarisation(new Length(metres));
  }
}
