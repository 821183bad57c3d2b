package lodestep.magnet;

/** The magnetic constant. */
final class Mu0 {

  /** In T m/A; the value of the 2018 CODATA adjustment differs by less than one part in 10^9. */
  static final double TESLA_PER_AMPERE_PER_METRE = 4e-7 * Math.PI;

  private Mu0() {}
}
