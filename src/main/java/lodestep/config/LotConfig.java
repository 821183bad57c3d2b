package lodestep.config;

import java.util.List;
import java.util.Map;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * A lot of stock with measured figures, as rig.toml tells of it: {@code [[lot]]}. Any thread,
 * immutable.
 *
 * @param name by which plans ask for it in the place of an alloy
 * @param alloy whose figures it has where none was measured
 * @param figures measured ones, by their keys, in the unit the key says
 * @param curve points of a measured demagnetising curve; may be empty
 * @param measured by whom and when
 */
public record LotConfig(
    String name, String alloy, Map<String, Double> figures, List<Point> curve, String measured) {

  /** A point of its demagnetising curve: the field inside, and the flux density there. */
  public record Point(FieldStrength net, FluxDensity induction) {

    /**
     * Reads {@code -48.7 kA/m, 377 mT}.
     *
     * @throws IllegalArgumentException with one sentence that says how to write it
     */
    public static Point parse(String text) {
      String[] parts = text.split(",", -1);
      if (parts.length != 2) {
        throw new IllegalArgumentException(
            "'" + text + "' is no point; write field and flux density: -48.7 kA/m, 377 mT");
      }
      return new Point(FieldStrength.parse(parts[0].strip()), FluxDensity.parse(parts[1].strip()));
    }
  }

  /** The figures a lot can have. */
  public static final List<String> KEYS =
      List.of(
          "remanence_tesla",
          "coercivity_b_ka_per_m",
          "coercivity_j_ka_per_m",
          "energy_product_kj_per_m3",
          "recoil_permeability",
          "remanence_percent_per_kelvin",
          "coercivity_percent_per_kelvin",
          "density_g_per_cm3",
          "resistivity_microohm_cm",
          "saturating_field_ka_per_m",
          "remanence_spread_between_lots_percent",
          "remanence_spread_percent",
          "coercivity_spread_between_lots_percent",
          "coercivity_spread_percent");

  public LotConfig {
    figures = Map.copyOf(figures);
    curve = List.copyOf(curve);
  }
}
