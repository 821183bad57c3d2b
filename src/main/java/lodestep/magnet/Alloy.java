package lodestep.magnet;

import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * One magnet alloy by the figures its makers publish, at 20 °C. Any thread, immutable.
 *
 * @param name the trade's name, for example "alnico 5"
 * @param remanence Br, &gt; 0
 * @param coercivityB HcB, where the flux density of the descending loop is zero, without sign
 * @param coercivityJ HcJ, where its polarisation is zero, without sign, &ge; HcB
 * @param energyProductJoulesPerCubicMetre (BH)max
 * @param recoilPermeability relative, &ge; 1
 * @param remanencePerKelvin reversible change of Br, relative, for one kelvin
 * @param saturatingField net field inside the magnet that saturates it
 * @param source where the figures come from, and how far each is trusted
 */
public record Alloy(
    String name,
    FluxDensity remanence,
    FieldStrength coercivityB,
    FieldStrength coercivityJ,
    double energyProductJoulesPerCubicMetre,
    double recoilPermeability,
    double remanencePerKelvin,
    FieldStrength saturatingField,
    Spread spread,
    String source) {

  /** A reversible change of one per cent for a kelvin is no permanent magnet. */
  private static final double REMANENCE_PER_KELVIN_MAX = 0.01;

  /** The softest hard alloys recoil at about seven; beyond ten it is a slip of the pen. */
  private static final double RECOIL_PERMEABILITY_MAX = 10.0;

  /**
   * @throws IllegalArgumentException if a figure is out of range or contradicts another
   */
  public Alloy {
    require(name, !name.isBlank(), "has no name");
    require(name, remanence.tesla() > 0, "needs a remanence above zero");
    require(name, coercivityB.amperesPerMetre() > 0, "needs a coercivity HcB above zero");
    require(
        name,
        coercivityJ.amperesPerMetre() >= coercivityB.amperesPerMetre(),
        "has HcJ below HcB, which no loop can have");
    require(
        name,
        saturatingField.amperesPerMetre() > coercivityJ.amperesPerMetre(),
        "needs a saturating field above HcJ");
    require(name, energyProductJoulesPerCubicMetre > 0, "needs an energy product above zero");
    require(
        name,
        recoilPermeability >= 1 && recoilPermeability <= RECOIL_PERMEABILITY_MAX,
        "needs a recoil permeability of 1 to 10");
    require(
        name,
        Math.abs(remanencePerKelvin) <= REMANENCE_PER_KELVIN_MAX,
        "has a temperature coefficient out of range");
  }

  private static void require(String name, boolean good, String wrong) {
    if (!good) {
      throw new IllegalArgumentException("alloy '" + name + "' " + wrong);
    }
  }
}
