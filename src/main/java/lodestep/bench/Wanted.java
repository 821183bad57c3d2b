package lodestep.bench;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Drop;
import lodestep.dial.Percent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Nearest;

/** What a target cell says, before the other cells of its row are known. */
sealed interface Wanted {

  /**
   * A level.
   *
   * @param value not zero
   * @param signWritten whether it was written with a plus or a minus
   */
  record Level(FluxDensity value, boolean signWritten) implements Wanted {}

  /** Down from where it is. */
  record Down(Drop drop) implements Wanted {}

  /** No flux at all. */
  record Nothing() implements Wanted {}

  /** As much as it takes. */
  record Full() implements Wanted {}

  String FULL_WORDS = "full charge";

  List<String> NOTHING_WORDS = List.of("demagnetise", "demagnetize");

  /**
   * Reads {@code 640 G}, {@code -64 mT}, {@code down 30 G}, {@code down 15 %}, {@code demagnetise}
   * or {@code full charge}.
   *
   * @param text stripped, without line breaks
   * @throws IllegalArgumentException with one sentence that says what is wrong and what to write
   */
  static Wanted read(String text) {
    String plain = text.toLowerCase(Locale.ROOT);
    if (NOTHING_WORDS.contains(plain)) {
      return new Nothing();
    }
    if (plain.replaceAll("\\s+", " ").equals(FULL_WORDS)) {
      return new Full();
    }
    if (plain.matches("up\\b.*")) {
      throw new IllegalArgumentException(
          "'"
              + text
              + "' goes up, and charging is the only way up;"
              + " write the level itself and the magnet is charged first");
    }
    if (plain.matches("down\\b.*")) {
      return new Down(drop(text.substring("down".length()).strip()));
    }
    if (!plain.matches("[+\\-\u2212.0-9].*") || Percent.fraction(text).isPresent()) {
      throw new IllegalArgumentException(
          "'"
              + text
              + "' is no target"
              + Nearest.hint(plain, List.of("demagnetise", FULL_WORDS))
              + "; write a level such as 640 G, or down 30 G, down 15 %, demagnetise, full charge");
    }
    return level(text);
  }

  private static Level level(String text) {
    FluxDensity value = FluxDensity.parse(text);
    if (value.tesla() == 0) {
      throw new IllegalArgumentException(
          "'" + text + "' is no level to knock down to; to take all of it away write demagnetise");
    }
    return new Level(value, !Character.isDigit(text.charAt(0)) && text.charAt(0) != '.');
  }

  private static Drop drop(String amount) {
    String plain = amount.replaceFirst("(?i)^by\\b\\s*", "");
    if (plain.isEmpty()) {
      throw new IllegalArgumentException(
          "down, but not how far; write down 30 G, or down 15 per cent");
    }
    Optional<Double> fraction = Percent.fraction(plain);
    return fraction.isPresent()
        ? new Drop.ByPart(fraction.get())
        : new Drop.By(FluxDensity.parse(plain));
  }
}
