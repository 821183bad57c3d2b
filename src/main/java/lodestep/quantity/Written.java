package lodestep.quantity;

import java.util.List;
import java.util.function.DoubleFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Reads a quantity as a winder writes it: a number, or a fraction of whole numbers, and a unit.
 *
 * @param what the quantity's name in messages
 * @param example a well-written value, shown in every refusal
 * @param units the units understood, the usual one first; spelling counts, as {@code mT} and {@code
 *     MT} differ by nine powers of ten
 */
record Written(String what, String example, List<Unit> units) {

  /** Longer text is not a quantity; a limit keeps the pattern's work bounded. */
  private static final int LENGTH_MAX = 40;

  private static final Pattern NUMBER_UNIT =
      Pattern.compile(
          "([+-]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][+-]?\\d{1,3})?)(?:/([1-9]\\d*))?\\s*(\\S*)");

  /** A unit as it is written, and how many SI units it is. */
  record Unit(String symbol, double factor) {}

  Written {
    units = List.copyOf(units);
  }

  <Q> Q read(String text, DoubleFunction<Q> make) {
    String trimmed = text.strip();
    if (trimmed.length() > LENGTH_MAX) {
      throw refusal(trimmed.substring(0, LENGTH_MAX) + "…", "is too long");
    }
    if (trimmed.indexOf(',') >= 0) {
      throw refusal(trimmed, "has a comma; write the decimal point as a point");
    }
    Matcher matcher = NUMBER_UNIT.matcher(trimmed.replace('\u2212', '-'));
    if (!matcher.matches()) {
      throw refusal(trimmed, "is not a number with a unit");
    }
    double number = Double.parseDouble(matcher.group(1));
    if (matcher.group(2) != null) {
      number /= Double.parseDouble(matcher.group(2));
    }
    String symbol = matcher.group(3);
    if (symbol.isEmpty()) {
      throw refusal(trimmed, "has no unit");
    }
    // MICRO SIGN and GREEK SMALL MU, OHM SIGN and GREEK CAPITAL OMEGA look alike and are both
    // typed.
    String canonical = symbol.replace('\u03bc', '\u00b5').replace('\u2126', '\u03a9');
    for (Unit unit : units) {
      if (unit.symbol().equals(canonical)) {
        return checked(trimmed, number * unit.factor(), make);
      }
    }
    throw refusal(trimmed, "has the unknown unit '" + symbol + "'");
  }

  private <Q> Q checked(String text, double si, DoubleFunction<Q> make) {
    try {
      return make.apply(si);
    } catch (IllegalArgumentException outOfRange) {
      throw new IllegalArgumentException(
          "'" + text + "' is out of range for " + article() + " " + what + " here", outOfRange);
    }
  }

  private IllegalArgumentException refusal(String text, String why) {
    String known = units.stream().map(Unit::symbol).collect(Collectors.joining(", "));
    return new IllegalArgumentException(
        String.format(
            "'%s' %s; %s %s is written like %s (units: %s)",
            text, why, article(), what, example, known));
  }

  private String article() {
    return "aeiou".indexOf(what.charAt(0)) < 0 ? "a" : "an";
  }
}
