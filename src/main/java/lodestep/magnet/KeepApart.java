package lodestep.magnet;

import java.util.Optional;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;

/**
 * How near another magnet may come, its like pole first, before it takes anything of a magnet that
 * survives a field. Any thread, immutable.
 *
 * <p>Both on one axis, in air, with no steel near; by the field in the middle of the nearer face,
 * which is the strongest on the axis. The other magnet is taken as unchanged by this one. Towards
 * an edge of a flat face the field is up to a half stronger when it almost touches.
 *
 * @param work that is to be kept
 * @param survives strongest opposing field that leaves it as it is, &ge; 0
 */
public record KeepApart(Shape work, FieldStrength survives) {

  /** Beyond this nothing that a person holds matters to an alnico. */
  private static final double FARTHEST_METRES = 0.5;

  private static final int HALVINGS = 40;

  /**
   * The least gap between the faces.
   *
   * @param other its centre the origin, its pole that comes first at +z
   * @param height of the other along the axis
   * @return zero if it may touch; empty if even {@value #FARTHEST_METRES} m are too near
   */
  public Optional<Length> from(FluxSource other, Length height) {
    if (opposing(other, height, 0) <= survives.amperesPerMetre()) {
      return Optional.of(new Length(0));
    }
    if (opposing(other, height, FARTHEST_METRES) > survives.amperesPerMetre()) {
      return Optional.empty();
    }
    double near = 0;
    double far = FARTHEST_METRES;
    for (int i = 0; i < HALVINGS; i++) {
      double middle = 0.5 * (near + far);
      boolean tooNear = opposing(other, height, middle) > survives.amperesPerMetre();
      near = tooNear ? middle : near;
      far = tooNear ? far : middle;
    }
    return Optional.of(new Length(far));
  }

  private double opposing(FluxSource other, Length height, double gapMetres) {
    double up = 0.5 * work.height().metres() + gapMetres + 0.5 * height.metres();
    FieldInWork field = new FieldInWork(other.raised(up), work);
    return Math.abs(field.near().amperesPerMetre());
  }
}
