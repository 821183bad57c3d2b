package lodestep.config;

import lodestep.quantity.FluxDensity;

/**
 * A reference magnet with its certificate, as rig.toml tells of it: {@code [[reference]]}. Any
 * thread, immutable.
 *
 * @param value what it reads in this nest by its certificate; positive where the face read is north
 * @param uncertainty of the value, expanded with k = 2 as certificates state it, &gt; 0
 * @param nest name of the nest it is read in
 * @param date of the certificate, year-month-day
 */
public record ReferenceConfig(
    String name, FluxDensity value, FluxDensity uncertainty, String nest, String date) {

  /** Expanded over standard uncertainty of a certificate. */
  private static final double COVERAGE = 2;

  /** Standard uncertainty of the value. */
  public FluxDensity standardUncertainty() {
    return new FluxDensity(uncertainty.tesla() / COVERAGE);
  }
}
