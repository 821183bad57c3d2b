package lodestep.measure;

import java.util.List;
import java.util.Locale;
import lodestep.quantity.FluxDensity;

/**
 * How a winder's own hand gauge relates to a nest of this rig for one shape of magnet: the hand
 * gauge reads {@code ratio} times what the nest reads. Any thread, immutable.
 *
 * <p>The two never read alike, since the same face reads half as much a millimetre further off; but
 * for one shape the one is a fixed part of the other.
 *
 * @param ratio hand over nest, &gt; 0
 * @param uncertainty standard, of the ratio
 * @param scatter relative standard deviation of one hand reading about the relation, &ge; 0
 * @param from least hand reading it holds for, without sign
 * @param to greatest
 */
public record HandGaugeRelation(
    double ratio,
    StandardUncertainty uncertainty,
    double scatter,
    FluxDensity from,
    FluxDensity to) {

  /**
   * @throws IllegalArgumentException if a figure is not a number or out of range
   */
  public HandGaugeRelation {
    // Negated comparisons on purpose: they also reject NaN.
    if (!(ratio > 0 && ratio < Double.POSITIVE_INFINITY && scatter >= 0)) {
      throw new IllegalArgumentException("relation out of range: " + ratio + ", " + scatter);
    }
    if (!(from.tesla() >= 0 && from.compareTo(to) < 0)) {
      throw new IllegalArgumentException(
          "relation's range is none: " + from.inGauss() + " to " + to.inGauss());
    }
  }

  /** A level with its standard uncertainty. */
  public record Level(FluxDensity value, StandardUncertainty uncertainty) {}

  /** Whether it holds for this reading of the hand gauge; the sign does not count. */
  public boolean holdsFor(FluxDensity hand) {
    FluxDensity size = hand.magnitude();
    return size.compareTo(from) >= 0 && size.compareTo(to) <= 0;
  }

  /**
   * What the nest reads where the hand gauge reads this, the ratio's uncertainty counted in.
   *
   * @param hand signed
   * @throws IllegalArgumentException with one sentence, if it is outside the range
   */
  public Level nest(FluxDensity hand) {
    if (!holdsFor(hand)) {
      throw outside(hand);
    }
    double value = hand.tesla() / ratio;
    double relative = uncertainty.value() / ratio;
    return new Level(
        new FluxDensity(value),
        new StandardUncertainty(Math.abs(value) * relative, uncertainty.degreesOfFreedom()));
  }

  /**
   * What the hand gauge reads on the mean where the nest reads this.
   *
   * @param nest signed
   * @param reading standard uncertainty of the nest's reading, in tesla
   * @throws IllegalArgumentException with one sentence, if it is outside the range
   */
  public Level hand(FluxDensity nest, StandardUncertainty reading) {
    FluxDensity value = new FluxDensity(ratio * nest.tesla());
    if (!holdsFor(value)) {
      throw outside(value);
    }
    return new Level(
        value,
        StandardUncertainty.combined(
            List.of(
                new StandardUncertainty(ratio * reading.value(), reading.degreesOfFreedom()),
                new StandardUncertainty(
                    uncertainty.value() * Math.abs(nest.tesla()),
                    uncertainty.degreesOfFreedom()))));
  }

  /** A width, such as a tolerance, told by the hand gauge, as the nest sees it. */
  public FluxDensity nestWidth(FluxDensity handWidth) {
    return new FluxDensity(handWidth.tesla() / ratio);
  }

  /** For people: {@code hand = 1.0843 ± 0.0041 (k = 2.31) x nest, from 210 G to 660 G}. */
  public String written() {
    double factor = UncertaintyBudget.coverage(0.95, uncertainty.degreesOfFreedom());
    return String.format(
        Locale.ROOT,
        "hand = (%.4f ± %.4f, k = %.2f) x nest, from %.0f G to %.0f G on the hand gauge",
        ratio,
        factor * uncertainty.value(),
        factor,
        from.gauss(),
        to.gauss());
  }

  private IllegalArgumentException outside(FluxDensity hand) {
    return new IllegalArgumentException(
        String.format(
            Locale.ROOT,
            "%.0f G on the hand gauge is outside the relation, which holds from %.0f G to %.0f G;"
                + " pair magnets of that level too",
            hand.magnitude().gauss(),
            from.gauss(),
            to.gauss()));
  }
}
