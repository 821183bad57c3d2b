package lodestep.measure;

import java.util.List;

/**
 * A standard uncertainty and the degrees of freedom behind it. Any thread, immutable.
 *
 * <p>Source: JCGM 100:2008, 5.1.2 and equation G.2b.
 *
 * @param value in the unit of what it belongs to, &ge; 0
 * @param degreesOfFreedom &gt; 0; infinite for a figure known beforehand
 */
public record StandardUncertainty(double value, double degreesOfFreedom) {

  /**
   * @throws IllegalArgumentException if a figure is not a number or out of range
   */
  public StandardUncertainty {
    // Negated comparisons on purpose: they also reject NaN.
    if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("standard uncertainty out of range: " + value);
    }
    if (!(degreesOfFreedom > 0)) {
      throw new IllegalArgumentException("degrees of freedom out of range: " + degreesOfFreedom);
    }
  }

  /** A figure known beforehand, from a certificate or a specification. */
  public static StandardUncertainty known(double value) {
    return new StandardUncertainty(value, Double.POSITIVE_INFINITY);
  }

  /**
   * One figure from several estimates of the same scatter: &radic;(&Sigma; f s² / &Sigma; f), with
   * &Sigma; f degrees of freedom (pooled estimate, JCGM 100:2008, 4.2.4).
   *
   * @param estimates each with finitely many degrees of freedom; at least one
   */
  public static StandardUncertainty pooled(List<StandardUncertainty> estimates) {
    double squares = 0;
    double freedom = 0;
    for (StandardUncertainty estimate : estimates) {
      squares += estimate.degreesOfFreedom * estimate.value * estimate.value;
      freedom += estimate.degreesOfFreedom;
    }
    return new StandardUncertainty(Math.sqrt(squares / freedom), freedom);
  }

  /**
   * Root of the sum of squares of independent parts, already in the result's unit, with the degrees
   * of freedom after Welch and Satterthwaite. An empty list is an uncertainty of zero.
   */
  public static StandardUncertainty combined(List<StandardUncertainty> parts) {
    double variance = 0;
    double spread = 0;
    for (StandardUncertainty part : parts) {
      double square = part.value * part.value;
      variance += square;
      spread += square * square / part.degreesOfFreedom;
    }
    double freedom = spread > 0 ? variance * variance / spread : Double.POSITIVE_INFINITY;
    return new StandardUncertainty(Math.sqrt(variance), freedom);
  }
}
