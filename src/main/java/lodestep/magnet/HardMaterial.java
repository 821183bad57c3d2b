package lodestep.magnet;

import java.util.Optional;
import java.util.stream.Collectors;
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

  /** The ceramic or neodymium of this name in any spelling; empty for an alnico too. */
  public static Optional<HardMaterial> find(String text) {
    return AlloyBook.standard()
        .find(text)
        .filter(alloy -> !alloy.family().isDialed())
        .map(HardMaterial::of);
  }

  private static HardMaterial of(Alloy alloy) {
    String sources =
        alloy.figures().values().stream()
            .map(known -> known.source().text())
            .distinct()
            .collect(Collectors.joining(" "));
    return new HardMaterial(
        alloy.name(), alloy.remanence(), alloy.coercivityJ(), alloy.recoilPermeability(), sources);
  }
}
