package lodestep.magnet;

/**
 * From a kind's mean polarisation to what is read off its face at one stand-off. Any thread,
 * immutable.
 *
 * <p>The reading is the even magnet's, polarisation times a figure of the shape, times a ratio that
 * depends on the level: linear between the levels that were resolved, constant beyond them, and
 * alike for both signs.
 */
public final class FaceField {

  private final double fullTesla;
  private final double evenPerTesla;
  private final double[] parts;
  private final double[] ratios;

  /**
   * @param fullTesla mean polarisation of the full charge, &gt; 0
   * @param evenPerTesla reading of an even magnet for one tesla
   * @param parts levels as parts of the full charge, falling from 1
   * @param ratios resolved reading over the even one at each
   */
  FaceField(double fullTesla, double evenPerTesla, double[] parts, double[] ratios) {
    this.fullTesla = fullTesla;
    this.evenPerTesla = evenPerTesla;
    this.parts = parts;
    this.ratios = ratios;
  }

  /**
   * What a nominal magnet of this mean polarisation reads, in tesla.
   *
   * @param polarisationTesla signed
   */
  public double tesla(double polarisationTesla) {
    return tesla(polarisationTesla, 1);
  }

  /**
   * What a magnet reads that is by a factor stronger than the nominal one, in tesla.
   *
   * @param polarisationTesla signed
   * @param strength its full charge over the nominal one's, &gt; 0
   */
  public double tesla(double polarisationTesla, double strength) {
    double part = Math.abs(polarisationTesla) / (strength * fullTesla);
    return polarisationTesla * evenPerTesla * ratio(part);
  }

  /**
   * Whether a reading of this level is the resolved magnet's. Below, the ratio of the lowest level
   * that was resolved is kept, which is off by up to 4 per cent of the full charge.
   *
   * @param polarisationTesla signed
   */
  public boolean holds(double polarisationTesla) {
    return Math.abs(polarisationTesla) >= parts[parts.length - 1] * fullTesla;
  }

  private double ratio(double part) {
    if (part >= parts[0]) {
      return ratios[0];
    }
    for (int i = 1; i < parts.length; i++) {
      if (part >= parts[i]) {
        double along = (part - parts[i - 1]) / (parts[i] - parts[i - 1]);
        return ratios[i - 1] + along * (ratios[i] - ratios[i - 1]);
      }
    }
    return ratios[parts.length - 1];
  }
}
