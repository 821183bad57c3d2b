package lodestep.cli;

import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import lodestep.measure.LiveReading;
import lodestep.quantity.FluxDensity;

/**
 * A live reading as a plain sentence. Any thread, immutable.
 *
 * @param unit writes a flux density in the unit asked
 * @param range beyond which the gauge clips
 */
record LiveWords(Function<FluxDensity, String> unit, FluxDensity range) {

  /** Below this a face shows no pole worth naming. Common practice, no source. */
  private static final double NO_POLE_TESLA = 2e-4;

  private static final double CLIPS = 0.995;

  /** In gauss or millitesla. */
  static LiveWords in(String unit, FluxDensity range) {
    return switch (unit.toLowerCase(Locale.ROOT)) {
      case "gauss", "g" -> new LiveWords(FluxDensity::inGauss, range);
      case "millitesla", "mt" -> new LiveWords(FluxDensity::inMilliTesla, range);
      default ->
          throw new Refusal("--unit: '" + unit + "' is no unit here; write gauss or millitesla");
    };
  }

  /** "north", "south", or empty when there is next to nothing. */
  static String pole(FluxDensity value) {
    if (Math.abs(value.tesla()) < NO_POLE_TESLA) {
      return "";
    }
    return value.tesla() < 0 ? "south" : "north";
  }

  /** What is read now, in one line that fits a terminal. */
  String line(HeadWork.Live live) {
    if (live.silence().isPresent()) {
      return capital(live.silence().get()) + ".";
    }
    LiveReading reading = live.reading();
    Optional<FluxDensity> value = reading.value();
    if (value.isEmpty()) {
      return "Nothing read yet.";
    }
    String least = reading.smallest().map(unit).orElse("-");
    String most = reading.largest().map(unit).orElse("-");
    if (reading.held().isPresent()) {
      // How the gauge wanders now says nothing of what was read then.
      return String.format(
          Locale.ROOT,
          "Held %.1f s ago: %s Least %s, most %s.",
          live.heldSeconds().orElse(0.0),
          read(new FluxDensity(reading.held().get().tesla())),
          least,
          most);
    }
    return String.format(
        Locale.ROOT,
        "%s Least %s, most %s, wanders %s; %.2f s old.",
        read(value.get()),
        least,
        most,
        unit.apply(reading.wander()),
        live.ageSeconds().orElse(0.0));
  }

  private String read(FluxDensity value) {
    if (Math.abs(value.tesla()) >= CLIPS * range.tesla()) {
      return "Beyond the gauge, more than " + unit.apply(range) + ".";
    }
    String pole = pole(value);
    return pole.isEmpty()
        ? "No pole: " + unit.apply(value) + "."
        : capital(pole) + " face: " + unit.apply(value) + ".";
  }

  private static String capital(String words) {
    return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
  }
}
