package lodestep.magnet;

import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;

/**
 * A charged magnet of hard material that is brought to the work from outside: the opposing magnet
 * of a jig or of a push by hand, or one jaw between which a magnet is charged. Any thread,
 * immutable.
 *
 * <p>It is taken as magnetised alike everywhere, which a hard material nearly is, and as unchanged
 * by the work. Its field is without sign here: who holds it knows which pole faces the work. The
 * figures hold in air, with no steel near, on the axis through the middle of its pole face.
 *
 * <p>Source: polarisation on the recoil line J = Br + µ0 (µrec − 1) H at H = −N J/µ0; the field by
 * {@link Shape#faceFieldPerPolarisation}.
 *
 * @param shape sizes and the axis along which it is charged; the pole that ends this axis faces the
 *     work
 */
public record HardMagnet(HardMaterial material, Shape shape) {

  /**
   * Enough for seven digits at a gap of zero when the depth is ten times the face's smaller size.
   */
  private static final int QUADRATURE_POINTS = 64;

  private static final GaussIntegrator QUADRATURE =
      new GaussIntegratorFactory().legendre(QUADRATURE_POINTS, 0, 1);

  /** Polarisation in tesla, standing by itself in air; a little below the remanence. */
  public double polarisationTesla() {
    double susceptibility = material.recoilPermeability() - 1;
    return material.remanence().tesla() / (1 + susceptibility * shape.demagnetisingFactor());
  }

  /** The whole field around it: its middle is the origin, its north face at +z. */
  public FluxSource source() {
    return shape.perTesla().times(polarisationTesla());
  }

  /**
   * Field on the axis at one distance outside the pole face.
   *
   * @param distance &ge; 0
   * @throws IllegalArgumentException if the distance is negative
   */
  public FieldStrength fieldAt(Length distance) {
    double tesla = polarisationTesla() * shape.axisFieldPerPolarisation(distance);
    return new FieldStrength(tesla / Mu0.TESLA_PER_AMPERE_PER_METRE);
  }

  /**
   * Mean of the field on the axis through a work piece whose near face is a gap away: what a model
   * with one field everywhere inside the work has to be given. The near end sees more, the far end
   * less.
   *
   * @param gap between the two faces, &ge; 0
   * @param depth of the work along the axis, &gt; 0
   * @throws IllegalArgumentException if a size is out of range
   */
  public FieldStrength meanFieldThrough(Length gap, Length depth) {
    if (!(depth.metres() > 0)) {
      throw new IllegalArgumentException(
          "the depth of the work is " + depth.written() + "; it must be above zero");
    }
    double mean =
        QUADRATURE.integrate(
            part -> {
              Length distance = new Length(gap.metres() + part * depth.metres());
              return fieldAt(distance).amperesPerMetre();
            });
    return new FieldStrength(mean);
  }
}
