package lodestep.config;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Optional;

/** Reads the day since which a part is new, which need not be said. */
final class NewSince {

  private NewSince() {}

  /** As year-month-day; empty when it is not said, or refused. */
  static String read(Section section) {
    Optional<String> since = section.textIfThere("new_since", "2026-11-02");
    if (since.isPresent() && !isDay(since.get())) {
      section.refuse(
          "new_since",
          "'new_since' must be a day as year-month-day, such as \"2026-11-02\", not "
              + since.get());
    }
    return since.orElse("");
  }

  private static boolean isDay(String text) {
    try {
      return LocalDate.parse(text).getYear() > 0;
    } catch (DateTimeParseException wrong) {
      return false;
    }
  }
}
