package lodestep.config;

import java.util.List;
import java.util.Map;

/**
 * A lot of stock with measured figures, as rig.toml tells of it: {@code [[lot]]}. Any thread,
 * immutable.
 *
 * @param name by which plans ask for it in the place of an alloy
 * @param alloy whose figures it has where none was measured
 * @param figures measured ones, by their keys, in the unit the key says
 * @param measured by whom and when
 */
public record LotConfig(String name, String alloy, Map<String, Double> figures, String measured) {

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
  }
}
