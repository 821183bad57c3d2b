package lodestep.measure;

import java.util.List;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.distribution.continuous.TDistribution;

/**
 * An uncertainty budget: what a figure depends on, how well each of these is known, and how well
 * the figure is known for it. Any thread, immutable.
 *
 * <p>Source: JCGM 100:2008, equations 10 and G.2b; inputs independent of one another, first order.
 *
 * @param measurand what is measured, in words
 * @param value in {@code unit}
 * @param unit of the value and of every contribution
 * @param inputs at least one
 */
public record UncertaintyBudget(String measurand, double value, String unit, List<Input> inputs) {

  /** Beyond this Student's t is the normal distribution to seven digits. */
  private static final double FREEDOM_MAX = 1e7;

  /**
   * One input.
   *
   * @param name in words
   * @param value in its own unit
   * @param unit its own; empty for a ratio
   * @param uncertainty standard, in its own unit
   * @param sensitivity change of the measurand for one unit of this input
   * @param known how it is known: in words, such as the certificate or the readings behind it
   */
  public record Input(
      String name,
      double value,
      String unit,
      StandardUncertainty uncertainty,
      double sensitivity,
      String known) {

    /**
     * @throws IllegalArgumentException if a figure is not a finite number
     */
    public Input {
      if (!Double.isFinite(value) || !Double.isFinite(sensitivity)) {
        throw new IllegalArgumentException(name + ": value or sensitivity is not a number");
      }
    }

    /** Its part of the measurand's uncertainty, without sign. */
    public StandardUncertainty contribution() {
      return new StandardUncertainty(
          Math.abs(sensitivity) * uncertainty.value(), uncertainty.degreesOfFreedom());
    }
  }

  /**
   * An expanded uncertainty.
   *
   * @param probability that the interval covers the value, 0 to 1
   * @param factor k, expanded over standard uncertainty
   * @param value U, in the budget's unit
   */
  public record Expanded(double probability, double factor, double value) {}

  /**
   * @throws IllegalArgumentException if there is no input
   */
  public UncertaintyBudget {
    inputs = List.copyOf(inputs);
    if (inputs.isEmpty()) {
      throw new IllegalArgumentException("an uncertainty budget needs an input");
    }
  }

  /** Combined standard uncertainty with its effective degrees of freedom. */
  public StandardUncertainty combined() {
    return StandardUncertainty.combined(inputs.stream().map(Input::contribution).toList());
  }

  /** Part of the variance that an input makes, 0 to 1. */
  public double share(Input input) {
    double all = combined().value();
    double own = input.contribution().value();
    return all == 0 ? 0 : own * own / (all * all);
  }

  /**
   * Expanded uncertainty: with Student's t for the effective degrees of freedom, rounded down as
   * JCGM 100:2008, G.4.1 advises.
   *
   * @param probability to be covered, above 0 and below 1
   */
  public Expanded expanded(double probability) {
    StandardUncertainty combined = combined();
    double factor = coverage(probability, combined.degreesOfFreedom());
    return new Expanded(probability, factor, factor * combined.value());
  }

  /**
   * Two-sided coverage factor.
   *
   * @param probability above 0 and below 1
   * @param degreesOfFreedom &gt; 0, may be infinite; rounded down to a whole number, at least one
   * @throws IllegalArgumentException if the probability is out of range
   */
  public static double coverage(double probability, double degreesOfFreedom) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(probability > 0 && probability < 1)) {
      throw new IllegalArgumentException(
          "a coverage probability lies between 0 and 1: " + probability);
    }
    double whole = Math.max(1, Math.floor(degreesOfFreedom));
    double upper = (1 + probability) / 2;
    return whole > FREEDOM_MAX
        ? new NormalDistribution().inverseCumulativeProbability(upper)
        : new TDistribution(whole).inverseCumulativeProbability(upper);
  }
}
