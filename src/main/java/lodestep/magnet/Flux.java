package lodestep.magnet;

/**
 * A flux density with its direction, z along the axis of charge. Any thread, immutable.
 *
 * @param xTesla across
 * @param yTesla across
 * @param zTesla along
 */
public record Flux(double xTesla, double yTesla, double zTesla) {

  /** Nothing. */
  public static final Flux NONE = new Flux(0, 0, 0);

  /** Both together. */
  public Flux plus(Flux other) {
    return new Flux(xTesla + other.xTesla, yTesla + other.yTesla, zTesla + other.zTesla);
  }

  /** So many times as much; a negative factor turns it round. */
  public Flux times(double factor) {
    return new Flux(factor * xTesla, factor * yTesla, factor * zTesla);
  }
}
