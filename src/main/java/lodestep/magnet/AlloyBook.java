package lodestep.magnet;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lodestep.quantity.Nearest;

/** The alloys known, found by any of the trade's spellings. Any thread, immutable. */
public final class AlloyBook {

  /** Roman numerals are how old hands write the grade. */
  private static final List<String> ROMAN =
      List.of("0", "i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix");

  private static final AlloyBook STANDARD = new AlloyBook(AlloyText.read(AlloyTable.TEXT));

  private final List<Alloy> alloys;

  /**
   * A book of these alloys, in this order.
   *
   * @throws IllegalArgumentException if it is empty or two are spelled alike
   */
  public AlloyBook(List<Alloy> alloys) {
    this.alloys = List.copyOf(alloys);
    long spellings = alloys.stream().map(alloy -> plain(alloy.name())).distinct().count();
    if (alloys.isEmpty() || spellings != alloys.size()) {
      throw new IllegalArgumentException("an alloy book needs alloys with names of their own");
    }
  }

  /** The alloys of published figures, those of {@link AlloyTable}. */
  public static AlloyBook standard() {
    return STANDARD;
  }

  /** All names, in the book's order. */
  public List<String> names() {
    return alloys.stream().map(Alloy::name).toList();
  }

  /** All alloys, in the book's order. */
  public List<Alloy> alloys() {
    return alloys;
  }

  /**
   * The alloy of this name. Case, blanks, hyphens, the short form ("A5") and Roman numerals
   * ("Alnico V") make no difference.
   */
  public Optional<Alloy> find(String text) {
    String asked = plain(text);
    return alloys.stream().filter(alloy -> plain(alloy.name()).equals(asked)).findFirst();
  }

  /**
   * The names most like this text, for a message: all equally near, in the book's order; none if
   * none is near enough to be meant, by the measure of {@link Nearest}.
   */
  public List<String> nearest(String text) {
    Map<String, String> names = new LinkedHashMap<>();
    alloys.forEach(alloy -> names.put(plain(alloy.name()), alloy.name()));
    return Nearest.names(plain(text), names.keySet()).stream()
        .map(spelling -> names.getOrDefault(spelling, spelling))
        .toList();
  }

  private static String plain(String text) {
    String squeezed = text.toLowerCase(Locale.ROOT).replaceAll("[\\s\\-_]", "");
    String full = squeezed.matches("a(\\d.*|[ivx]+)") ? "alnico" + squeezed.substring(1) : squeezed;
    if (!full.startsWith("alnico")) {
      return full;
    }
    int numeral = ROMAN.indexOf(full.substring("alnico".length()));
    return numeral > 0 ? "alnico" + numeral : full;
  }
}
