package lodestep.magnet;

import java.util.List;
import java.util.stream.IntStream;
import lodestep.quantity.FieldStrength;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;

/**
 * What a coil or a magnet near by makes in a work piece: the field along the work's axis of charge,
 * resolved. The work's centre is the origin; its near face is at +z. Any thread, immutable.
 *
 * <p>The field applied, without what the work's own poles take from it; in air, with no steel near.
 * What is said of the axis is said of the middle of the wall where the work is a ring.
 *
 * @param source whose body lies outside the work
 */
public record FieldInWork(FluxSource source, Shape work) {

  /** Points of the Gauss rule along each direction in the work. */
  private static final GaussIntegrator RULE = new GaussIntegratorFactory().legendre(10, -1, 1);

  /** Directions around a rod's axis, evenly spread, off the planes in which a slot's sides lie. */
  private static final int AROUND = 8;

  /** Of the half height; a source that touches the face is seen from outside of it. */
  private static final double INSIDE = 1 - 1e-9;

  /** Places along the axis at which the least field is looked for. */
  private static final int LOOKED_AT = 41;

  /** Mean over the volume, signed as the source has it. */
  public FieldStrength mean() {
    double half = 0.5 * work.height().metres();
    double tesla = 0.5 * RULE.integrate(w -> acrossTesla(w * half));
    return new FieldStrength(tesla / Mu0.TESLA_PER_AMPERE_PER_METRE);
  }

  /** Mean over the cross-section at this height. */
  private double acrossTesla(double z) {
    if (work instanceof Shape.Bar bar) {
      Prism edges = bar.edges();
      return 0.25
          * RULE.integrate(
              u ->
                  RULE.integrate(
                      v -> tesla(new Place(0.5 * u * edges.a(), 0.5 * v * edges.b(), z))));
    }
    return work instanceof Shape.Ring ring
        ? betweenTesla(0.5 * ring.inside().metres(), 0.5 * ring.outside().metres(), z)
        : betweenTesla(0, 0.5 * ((Shape.Rod) work).diameter().metres(), z);
  }

  /** Mean over the area between two radii. */
  private double betweenTesla(double inner, double outer, double z) {
    double middle = 0.5 * (outer * outer + inner * inner);
    double half = 0.5 * (outer * outer - inner * inner);
    return 0.5 * RULE.integrate(u -> aroundTesla(Math.sqrt(middle + u * half), z));
  }

  private double aroundTesla(double radius, double z) {
    return IntStream.range(0, AROUND)
        .mapToDouble(i -> 2 * Math.PI * (i + 0.5) / AROUND)
        .map(angle -> tesla(new Place(radius * Math.cos(angle), radius * Math.sin(angle), z)))
        .average()
        .orElse(0);
  }

  private double tesla(Place place) {
    return source.at(place).zTesla();
  }

  /**
   * Along the axis, evenly spaced from the near face to the far one, signed.
   *
   * @param points at least 2
   * @throws IllegalArgumentException if there are fewer
   */
  public List<FieldStrength> profile(int points) {
    if (points < 2) {
      throw new IllegalArgumentException("a profile has two points or more, not " + points);
    }
    return IntStream.range(0, points).mapToObj(i -> onAxis(1 - 2.0 * i / (points - 1))).toList();
  }

  /** In the middle of the near face. */
  public FieldStrength near() {
    return onAxis(1);
  }

  /** In the middle of the far face. */
  public FieldStrength far() {
    return onAxis(-1);
  }

  /** The least anywhere on the axis, without sign: zero where the field turns round inside. */
  public FieldStrength least() {
    List<FieldStrength> profile = profile(LOOKED_AT);
    double sign = Math.signum(profile.get(LOOKED_AT / 2).amperesPerMetre());
    double least =
        profile.stream().mapToDouble(field -> sign * field.amperesPerMetre()).min().orElse(0);
    return new FieldStrength(Math.max(0, least));
  }

  /** A hair inside the faces: what touches them there is outside the work. */
  private FieldStrength onAxis(double part) {
    double z = 0.5 * part * INSIDE * work.height().metres();
    double tesla = tesla(new Place(work.readAside(), 0, z));
    return new FieldStrength(tesla / Mu0.TESLA_PER_AMPERE_PER_METRE);
  }
}
