package lodestep.magnet;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * A magnet material so hard that an alnico magnet in its face does not change it: ceramic or
 * neodymium, at 20 °C. Any thread, immutable.
 *
 * @param name the trade's name, for example "ceramic 8"
 * @param remanence Br, &gt; 0
 * @param coercivityJ HcJ, without sign, &gt; 0
 * @param recoilPermeability relative, &ge; 1
 * @param source where the figures come from, and how far they are trusted
 */
public record HardMaterial(
    String name,
    FluxDensity remanence,
    FieldStrength coercivityJ,
    double recoilPermeability,
    String source) {

  private static final String MMPA =
      "MMPA Standard 0100-00, section III, from memory; remanence within 2 % of the points of an"
          + " open finite-element program's library. Recoil: middle of 1.05 to 1.2, from memory.";

  private static final String CUSTOMARY =
      "customary table of sintered neodymium grades, from memory: lower ends of the ranges quoted;"
          + " remanence within 2 % of the points of an open finite-element program's library.";

  private static final List<HardMaterial> STANDARD =
      List.of(
          // name, Br T, HcJ kA/m, recoil
          of("ceramic 5", 0.38, 199, 1.1, MMPA),
          of("ceramic 8", 0.385, 243, 1.1, MMPA),
          of("neodymium n35", 1.17, 955, 1.05, CUSTOMARY),
          of("neodymium n42", 1.28, 955, 1.05, CUSTOMARY),
          of("neodymium n52", 1.43, 876, 1.05, CUSTOMARY));

  /**
   * @throws IllegalArgumentException if a figure is out of range
   */
  public HardMaterial {
    // Negated comparisons on purpose: they also reject NaN.
    if (name.isBlank() || !(remanence.tesla() > 0) || !(coercivityJ.amperesPerMetre() > 0)) {
      throw new IllegalArgumentException(
          "hard material '" + name + "' needs a name, a remanence and a coercivity above zero");
    }
    if (!(recoilPermeability >= 1 && recoilPermeability <= 2)) {
      throw new IllegalArgumentException(
          "hard material '" + name + "' needs a recoil permeability of 1 to 2");
    }
  }

  /** The materials of published figures, softest first. */
  public static List<HardMaterial> standard() {
    return STANDARD;
  }

  /** The material of this name; case and blanks make no difference. */
  public static Optional<HardMaterial> find(String text) {
    String asked = plain(text);
    return STANDARD.stream().filter(material -> plain(material.name()).equals(asked)).findFirst();
  }

  private static String plain(String text) {
    return text.toLowerCase(Locale.ROOT).replaceAll("[\\s\\-_]", "");
  }

  private static HardMaterial of(
      String name, double tesla, double kiloAmperesPerMetre, double recoil, String source) {
    FieldStrength coercivity = new FieldStrength(kiloAmperesPerMetre * 1e3);
    return new HardMaterial(name, new FluxDensity(tesla), coercivity, recoil, source);
  }
}
