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

  /**
   * @param supplied whether a bench supply feeds it, whose ladder stands in [supply]
   */
  static Optional<CoilConfig> read(Section section, Optional<String> name, boolean supplied) {
    Optional<Resistance> resistance = section.quantity("resistance", "0.3 Ω", Resistance::parse);
    Optional<Inductance> inductance = section.quantity("inductance", "0.2 mH", Inductance::parse);
    Optional<FieldStrength> field =
        section.quantity("field", "7 kA/m per A", CoilReader::fieldPerAmp);
    Optional<Double> series = seriesOhms(section, supplied);
    Optional<Double> heat = section.positive("heat_joules_per_kelvin", "60");
    Optional<Double> cooling = section.positive("cooling_kelvin_per_watt", "6");
    Optional<Temperature> hottest =
        section.quantity("highest_temperature", "70 °C", Temperature::parse);
    hottest.ifPresent(temperature -> checkTemperature(section, temperature, HOTTEST, ""));
    if (!section.end() || name.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        new CoilConfig(
            name.get(),
            resistance.orElseThrow().ohms(),
            inductance.orElseThrow().henries(),
            field.orElseThrow().amperesPerMetre(),
            series.orElseThrow(),
            heat.orElseThrow(),
            cooling.orElseThrow(),
            hottest.orElseThrow()));
  }

  private static Optional<Double> seriesOhms(Section section, boolean supplied) {
    if (!supplied) {
      return section.quantity("series_resistor", "4.7 Ω", Resistance::parse).map(Resistance::ohms);
    }
    if (section.mayHave("series_resistor")) {
      section.refuse(
          "series_resistor",
          "a coil on a [supply] has the supply's 'ladder' and no series resistor of its own; take"
              + " this line out");
    }
    return Optional.of(0.0);
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

  /**
   * Refuses a highest temperature at which a warm room would be too hot already, or above the most.
   *
   * @param why goes on the end of the sentence
   */
  static void checkTemperature(Section section, Temperature given, Temperature most, String why) {
    if (given.compareTo(COOLEST) < 0 || given.compareTo(most) > 0) {
      section.refuse(
          "highest_temperature",
          "'highest_temperature' must be "
              + COOLEST.written()
              + " to "
              + most.written()
              + ", not "
              + given.written()
              + why);
    }
  }
}
