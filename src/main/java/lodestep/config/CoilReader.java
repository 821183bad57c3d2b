package lodestep.config;

import java.util.Optional;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Inductance;
import lodestep.quantity.Resistance;
import lodestep.quantity.Temperature;

/** Reads one [[coil]]. */
final class CoilReader {

  private static final String PER_AMP = "per A";

  /** Below this a coil in a warm room would always be too hot. */
  private static final Temperature COOLEST = Temperature.ofDegC(40);

  /** Enamelled wire and printed formers bear more, but fingers and bobbins do not. */
  private static final Temperature HOTTEST = Temperature.ofDegC(120);

  private CoilReader() {}

  static Optional<CoilConfig> read(Section section, Optional<String> name) {
    Optional<Resistance> resistance = section.quantity("resistance", "0.3 Ω", Resistance::parse);
    Optional<Inductance> inductance = section.quantity("inductance", "0.2 mH", Inductance::parse);
    Optional<FieldStrength> field =
        section.quantity("field", "7 kA/m per A", CoilReader::fieldPerAmp);
    Optional<Resistance> series = section.quantity("series_resistor", "4.7 Ω", Resistance::parse);
    Optional<Double> heat = section.positive("heat_joules_per_kelvin", "60");
    Optional<Double> cooling = section.positive("cooling_kelvin_per_watt", "6");
    Optional<Temperature> hottest =
        section.quantity("highest_temperature", "70 °C", Temperature::parse);
    hottest.ifPresent(temperature -> checkTemperature(section, temperature));
    if (!section.end() || name.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        new CoilConfig(
            name.get(),
            resistance.orElseThrow().ohms(),
            inductance.orElseThrow().henries(),
            field.orElseThrow().amperesPerMetre(),
            series.orElseThrow().ohms(),
            heat.orElseThrow(),
            cooling.orElseThrow(),
            hottest.orElseThrow()));
  }

  /** Reads {@code 7 kA/m per A}: the field that one ampere makes. */
  private static FieldStrength fieldPerAmp(String text) {
    String trimmed = text.strip();
    if (!trimmed.endsWith(PER_AMP)) {
      throw new IllegalArgumentException(
          "'" + text + "' must end in '" + PER_AMP + "', such as 7 kA/m per A");
    }
    FieldStrength field =
        FieldStrength.parse(trimmed.substring(0, trimmed.length() - PER_AMP.length()));
    if (!(field.amperesPerMetre() > 0)) {
      throw new IllegalArgumentException("'" + text + "' must be greater than zero");
    }
    return field;
  }

  private static void checkTemperature(Section section, Temperature hottest) {
    if (hottest.compareTo(COOLEST) < 0 || hottest.compareTo(HOTTEST) > 0) {
      section.refuse(
          "highest_temperature",
          "'highest_temperature' must be "
              + COOLEST.written()
              + " to "
              + HOTTEST.written()
              + ", not "
              + hottest.written());
    }
  }
}
