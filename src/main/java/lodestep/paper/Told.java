package lodestep.paper;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import lodestep.port.Hash;
import lodestep.quantity.FluxDensity;

/** Figures as they stand on paper. */
final class Told {

  /** Expanded over standard uncertainty: about 95 per cent. */
  static final double COVERAGE = 2;

  private static final DateTimeFormatter DAY =
      DateTimeFormatter.ofPattern("yyyy-MM-dd", Locale.ROOT).withZone(ZoneOffset.UTC);

  private Told() {}

  /** The day at Greenwich, so that it reads the same everywhere. */
  static String day(Instant wall) {
    return DAY.format(wall);
  }

  /** Without sign, with its pole: "431.2 G north". */
  static String level(double tesla) {
    return gauss(Math.abs(tesla), 1) + " G " + pole(tesla);
  }

  static String pole(double tesla) {
    return tesla < 0 ? "south" : "north";
  }

  static String gauss(double tesla, int digits) {
    return format("%." + digits + "f", new FluxDensity(tesla).gauss());
  }

  static String percent(double part) {
    return format("%.2f %%", 100 * part);
  }

  static String signedPercent(double part) {
    return format("%+.2f %%", 100 * part);
  }

  /** All its digits, with a gap in the middle at which a line can break. */
  static String inHalves(Hash hash) {
    String digits = hash.toString();
    int half = digits.length() / 2;
    return digits.substring(0, half) + " " + digits.substring(half);
  }

  static String format(String form, Object... values) {
    return String.format(Locale.ROOT, form, values);
  }
}
