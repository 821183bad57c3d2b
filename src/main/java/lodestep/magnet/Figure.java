package lodestep.magnet;

/** The figures by which an alloy is known, in the units people write them in. */
public enum Figure {
  /** Br. */
  REMANENCE("Br T", "remanence Br", 1, 0.01, 2),
  /** HcB, without sign: where the flux density of the descending loop is zero. */
  COERCIVITY_B("HcB kA/m", "coercivity HcB", 1e3, 1, 3000),
  /** HcJ, without sign: where the polarisation is zero. */
  COERCIVITY_J("HcJ kA/m", "coercivity HcJ", 1e3, 1, 4000),
  /** (BH)max. */
  ENERGY_PRODUCT("BHmax kJ/m3", "energy product (BH)max", 1e3, 0.1, 600),
  /** Relative. The softest hard alloys recoil at about seven. */
  RECOIL("recoil", "recoil permeability", 1, 1, 10),
  /** Reversible, relative. A change of one per cent for a kelvin is no permanent magnet. */
  REMANENCE_PER_KELVIN("Br %/K", "temperature coefficient of the remanence", 1e-2, -1, 1),
  /** Reversible, relative. */
  COERCIVITY_PER_KELVIN("HcJ %/K", "temperature coefficient of the coercivity", 1e-2, -1, 1),
  DENSITY("density g/cm3", "density", 1e3, 1, 20),
  RESISTIVITY("resistivity uOhm cm", "resistivity", 1e-8, 1, 1e15),
  /** Net field inside the magnet that saturates it. */
  SATURATING_FIELD("saturating kA/m", "saturating field", 1e3, 10, 5000),
  /** Relative standard deviation, as are those that follow. */
  REMANENCE_LOT("Br lot %", "spread of the remanence between lots", 1e-2, 0, 20),
  REMANENCE_MAGNET("Br magnet %", "spread of the remanence within a lot", 1e-2, 0, 20),
  COERCIVITY_LOT("Hc lot %", "spread of the coercivity between lots", 1e-2, 0, 20),
  COERCIVITY_MAGNET("Hc magnet %", "spread of the coercivity within a lot", 1e-2, 0, 20);

  private final String heading;
  private final String words;
  private final double unit;
  private final double least;
  private final double most;

  Figure(String heading, String words, double unit, double least, double most) {
    this.heading = heading;
    this.words = words;
    this.unit = unit;
    this.least = least;
    this.most = most;
  }

  /** With its unit, as a column is headed. */
  public String heading() {
    return heading;
  }

  /** As a sentence names it. */
  public String words() {
    return words;
  }

  /**
   * In SI units, from the unit of {@link #heading}.
   *
   * @throws IllegalArgumentException if it is no number or not a magnet's, in words that follow the
   *     alloy's name
   */
  public double read(double written) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(written >= least && written <= most)) {
      throw new IllegalArgumentException(
          "has a "
              + words
              + " of "
              + written
              + " ("
              + heading
              + "); it is "
              + least
              + " to "
              + most);
    }
    return written * unit;
  }

  /** In the unit of {@link #heading}, from SI units. */
  public double written(double si) {
    return si / unit;
  }
}
