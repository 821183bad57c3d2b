package lodestep.magnet;

/**
 * A place by its distances from a body's centre, z along the axis of charge. Any thread, immutable.
 *
 * @param xMetres across
 * @param yMetres across
 * @param zMetres along
 */
public record Place(double xMetres, double yMetres, double zMetres) {

  /**
   * @throws IllegalArgumentException naming the distance that is no number
   */
  public Place {
    requireFinite("x", xMetres);
    requireFinite("y", yMetres);
    requireFinite("z", zMetres);
  }

  /** A place on the axis. */
  public static Place onAxis(double zMetres) {
    return new Place(0, 0, zMetres);
  }

  /** The place so much further on. */
  public Place moved(double byXMetres, double byYMetres, double byZMetres) {
    return new Place(xMetres + byXMetres, yMetres + byYMetres, zMetres + byZMetres);
  }

  /** The place opposite, as far below the body as this one is above. */
  public Place below() {
    return new Place(xMetres, yMetres, -zMetres);
  }

  private static void requireFinite(String which, double metres) {
    if (!Double.isFinite(metres)) {
      throw new IllegalArgumentException("the place's " + which + " is no number: " + metres);
    }
  }
}
