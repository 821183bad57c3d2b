package lodestep.magnet;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Nearest;

/** The alloys known, found by any of the trade's spellings. Any thread, immutable. */
public final class AlloyBook {

  private static final String MMPA =
      "MMPA Standard 0100-00, section II, cast grades; from memory, all rows inside the"
          + " envelope of ASTM A1070-16. Recoil permeability: range of IEC 60404-8-1, from memory.";

  private static final String ALNICO_4 =
      "handbook class of cast alnico 4, not in MMPA 0100-00; all figures from memory, the middle of"
          + " the ranges quoted. Saturating field: four times HcJ (handbook rule, from memory).";

  /** Roman numerals are how old hands write the grade. */
  private static final List<String> ROMAN =
      List.of("0", "i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix");

  private static final AlloyBook STANDARD =
      new AlloyBook(
          List.of(
              // name, Br T, HcB and HcJ kA/m, (BH)max kJ/m3, recoil, Br per K, saturating kA/m
              isotropic("alnico 2", new double[] {0.75, 45, 46, 13.5, 5.5, -3e-4, 200}, MMPA),
              isotropic("alnico 3", new double[] {0.70, 38, 40, 10.7, 6.0, -3e-4, 200}, MMPA),
              isotropic("alnico 4", new double[] {0.56, 57, 60, 10.5, 4.1, -2e-4, 240}, ALNICO_4),
              oriented("alnico 5", new double[] {1.28, 51, 51, 43.8, 3.3, -2e-4, 240}, MMPA),
              oriented("alnico 6", new double[] {1.05, 62, 64, 31.0, 3.5, -2e-4, 320}, MMPA),
              oriented("alnico 8", new double[] {0.82, 131, 148, 42.2, 2.2, -2.5e-4, 640}, MMPA)));

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

  /** The cast alnicos of published figures. */
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

  private static Alloy isotropic(String name, double[] figures, String source) {
    return row(name, figures, new Spread(0.02, 0.008, 0.03, 0.012), source);
  }

  /** Orientation adds the spread of how well the columns were grown along the axis. */
  private static Alloy oriented(String name, double[] figures, String source) {
    return row(name, figures, new Spread(0.025, 0.01, 0.03, 0.015), source);
  }

  private static Alloy row(String name, double[] figures, Spread spread, String source) {
    return new Alloy(
        name,
        new FluxDensity(figures[0]),
        new FieldStrength(figures[1] * 1e3),
        new FieldStrength(figures[2] * 1e3),
        figures[3] * 1e3,
        figures[4],
        figures[5],
        new FieldStrength(figures[6] * 1e3),
        spread,
        source);
  }
}
