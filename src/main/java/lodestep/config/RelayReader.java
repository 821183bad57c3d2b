package lodestep.config;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Optional;
import java.util.OptionalLong;

/** Reads [relays], which a rig need not have. */
final class RelayReader {

  /** Below this a data sheet speaks of something else; a batch would use it up. */
  private static final long LEAST = 1_000;

  /** More than any contact that carries current bears. */
  private static final long MOST = 1_000_000_000L;

  private RelayReader() {}

  static RelayConfig read(Section section) {
    OptionalLong operations = section.whole("operations", LEAST, MOST);
    Optional<String> since = section.textIfThere("new_since", "2026-11-02");
    boolean wrong = since.isPresent() && !isDay(since.get());
    if (wrong) {
      section.refuse(
          "new_since",
          "'new_since' must be a day as year-month-day, such as \"2026-11-02\", not "
              + since.get());
    }
    return section.end() && operations.isPresent()
        ? new RelayConfig(operations.getAsLong(), since.orElse(""))
        : RelayConfig.NONE;
  }

  private static boolean isDay(String text) {
    try {
      return LocalDate.parse(text).getYear() > 0;
    } catch (DateTimeParseException wrong) {
      return false;
    }
  }
}
