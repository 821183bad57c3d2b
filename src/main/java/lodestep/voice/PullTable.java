package lodestep.voice;

import java.util.List;
import java.util.Locale;

/** What is told of a string in every table. Pure. */
final class PullTable {

  /** Headings of {@link #cells}. */
  static final List<String> COLUMNS = List.of("field", "gradient", "pull", "cents", "beats");

  private PullTable() {}

  static List<String> cells(StringPull pull) {
    return List.of(
        said("%.0f G", pull.fieldTesla() * 1e4),
        said("%.0f G/mm", pull.gradientTeslaPerMetre() * 10),
        said("%.2f mN", pull.pullNewtons() * 1e3),
        signed(pull.cents()),
        said("%.3f Hz", pull.splittingHertz()));
  }

  /** With its sign, to a hundredth; what rounds to nothing has none. */
  static String signed(double value) {
    String text = said("%+.2f", value);
    return text.equals("-0.00") || text.equals("+0.00") ? "0.00" : text;
  }

  /** A ratio in decibels with its sign, to a tenth; what rounds to nothing has none. */
  static String decibels(double value) {
    String text = said("%+.1f dB", value);
    return text.equals("-0.0 dB") || text.equals("+0.0 dB") ? "0.0 dB" : text;
  }

  /** To a thousandth; what is less says so, so that no sentence tells of nothing. */
  static String hertz(double value) {
    return value < 0.001 ? "less than 0.001 Hz" : said("%.3f Hz", value);
  }

  /** To a hundredth; what is less says so. */
  static String cents(double value) {
    return value < 0.01 ? "less than 0.01 cents" : said("%.2f cents", value);
  }

  /** A sentence with figures, the same in every locale. */
  static String said(String form, Object... values) {
    return String.format(Locale.ROOT, form, values);
  }
}
