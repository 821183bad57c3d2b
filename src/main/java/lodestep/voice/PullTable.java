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
        said("%+.2f", pull.cents()),
        said("%.3f Hz", pull.splittingHertz()));
  }

  /** A sentence with figures, the same in every locale. */
  static String said(String form, Object... values) {
    return String.format(Locale.ROOT, form, values);
  }
}
