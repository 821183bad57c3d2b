package lodestep.config;

import java.util.Optional;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/** Reads [gauge]. */
final class GaugeReader {

  private static final double ELEMENT_MM_MAX = 5.0;

  /** A gauge whose gain moves by more in a kelvin is broken; 0.2 per cent is a poor one. */
  private static final double PER_KELVIN_PERCENT_MAX = 2;

  /** A gain known no better than this is none. */
  private static final double UNCERTAINTY_PERCENT_MAX = 20;

  private static final String PER_KELVIN = "gain_percent_per_kelvin";
  private static final String UNCERTAINTY = "gain_uncertainty_percent";

  private GaugeReader() {}

  /** The gauge, without its references. */
  static Optional<GaugeConfig> read(Section section) {
    Optional<Double> counts = section.positive("counts_per_tesla", "500000");
    Optional<FluxDensity> range = section.quantity("range", "260 mT", FluxDensity::parse);
    if (range.isPresent() && !(range.get().tesla() > 0)) {
      section.refuse("range", "'range' must be greater than zero");
    }
    Optional<Length> element = element(section);
    double perKelvin = perKelvin(section);
    double uncertainty = uncertainty(section);
    if (!section.end()) {
      return Optional.empty();
    }
    return Optional.of(
        new GaugeConfig(counts.orElseThrow(), range.orElseThrow(), element.orElseThrow())
            .with(new GaugeConfig.Gain(perKelvin, uncertainty)));
  }

  /** A point, where the file does not say how large it is. */
  private static Optional<Length> element(Section section) {
    if (!section.mayHave("element")) {
      return Optional.of(Length.ofMm(0));
    }
    Optional<Length> side = section.quantity("element", "0.3 mm", Length::parse);
    if (side.isPresent() && !(side.get().mm() > 0 && side.get().mm() <= ELEMENT_MM_MAX)) {
      section.refuse("element", "'element' must be above 0 and at most " + ELEMENT_MM_MAX + " mm");
      return Optional.empty();
    }
    return side;
  }

  private static double perKelvin(Section section) {
    double percent = section.numberIfThere(PER_KELVIN, "-0.06").orElse(0.0);
    // Negated comparison on purpose: it also rejects NaN.
    if (!(Math.abs(percent) <= PER_KELVIN_PERCENT_MAX)) {
      section.refuse(
          PER_KELVIN,
          "'gain_percent_per_kelvin' must lie between -2 and 2; a Hall element's is about -0.06");
    }
    return percent * 1e-2;
  }

  private static double uncertainty(Section section) {
    Optional<Double> percent = section.numberIfThere(UNCERTAINTY, "1.5");
    // Negated comparison on purpose: it also rejects NaN.
    if (percent.isPresent() && !(percent.get() > 0 && percent.get() <= UNCERTAINTY_PERCENT_MAX)) {
      section.refuse(UNCERTAINTY, "'gain_uncertainty_percent' must be above 0 and at most 20");
    }
    return percent.map(part -> part * 1e-2).orElse(GaugeConfig.Gain.UNSAID.uncertainty());
  }
}
