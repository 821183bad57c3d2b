package lodestep.magnet;

/**
 * The loop of an alloy by itself: polarisation against the net field inside. Any thread, immutable.
 *
 * <p>Classical scalar Preisach model with a factorised Everett function and a reversible term,
 *
 * <pre>
 *   E(a, b) = F(a) F(−b) − F(−a) F(b),   F(h) = √(2 Js) · ½ (1 + tanh((h − Hc)/w)),
 *   J = Jirr + µ0 χ H,
 * </pre>
 *
 * so that the descending branch from saturation is J(H) = Js tanh((H + Hc)/w) + µ0 χ H. E(a, b) is
 * the change of Jirr as the field goes from the reversal b to a; its density is nowhere negative,
 * so polarisation never falls while the field rises. A growing excursion wipes out the smaller
 * ones, and a smaller loop closes on itself. Assumes a field that changes slowly against eddy
 * currents, and one temperature. Minor loops of real alnico have not been published as data, so
 * that their shape here is the model's, not measured.
 *
 * <p>Source: Preisach model in the form of Everett (1955); the factorised form as in the flux tube
 * library of the Modelica Standard Library (BSD-3); tanh chosen by fit to published curves.
 *
 * @param saturationTesla Js, &gt; 0
 * @param centreAmperesPerMetre Hc, the field where the irreversible branch crosses zero, &gt; 0
 * @param widthAmperesPerMetre w, &gt; 0
 * @param susceptibility χ, reversible, &ge; 0; the recoil permeability is 1 + χ
 */
public record Hysteresis(
    double saturationTesla,
    double centreAmperesPerMetre,
    double widthAmperesPerMetre,
    double susceptibility) {

  /**
   * @throws IllegalArgumentException if a figure is not a number or out of range
   */
  public Hysteresis {
    requirePositive("saturation in tesla", saturationTesla);
    requirePositive("centre in amperes per metre", centreAmperesPerMetre);
    requirePositive("width in amperes per metre", widthAmperesPerMetre);
    // Negated comparison on purpose: it also rejects NaN.
    if (!(susceptibility >= 0 && susceptibility < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("susceptibility out of range: " + susceptibility);
    }
  }

  /**
   * The loop that has the alloy's published figures.
   *
   * <p>Fitted exactly: Br, (BH)max and the recoil permeability. HcB and HcJ share one free figure,
   * which is set so that both are missed by the same relative amount in opposite directions. Where
   * that would be more than 3 per cent, HcJ is met exactly, and HcB and (BH)max share what is left:
   * of no alloy in the book is any figure then missed by more.
   *
   * @throws IllegalArgumentException if no loop of this form has these figures
   */
  public static Hysteresis of(Alloy alloy) {
    return new LoopFit(alloy).solve();
  }

  /**
   * The same loop stretched along both axes: that of a magnet stronger or harder than its alloy's
   * usual figures by these factors.
   */
  public Hysteresis scaled(double remanenceFactor, double coercivityFactor) {
    return new Hysteresis(
        saturationTesla * remanenceFactor,
        centreAmperesPerMetre * coercivityFactor,
        widthAmperesPerMetre * coercivityFactor,
        susceptibility * remanenceFactor / coercivityFactor);
  }

  /** The same loop falling over a field wider by this factor, about the same centre. */
  public Hysteresis rounder(double factor) {
    return new Hysteresis(
        saturationTesla, centreAmperesPerMetre, widthAmperesPerMetre * factor, susceptibility);
  }

  /**
   * Polarisation in tesla on the descending branch from saturation, reversible part included.
   *
   * @param netAmperesPerMetre field inside the magnet, signed
   */
  public double descendingTesla(double netAmperesPerMetre) {
    double argument = (netAmperesPerMetre + centreAmperesPerMetre) / widthAmperesPerMetre;
    return saturationTesla * Math.tanh(argument) + reversibleTesla(netAmperesPerMetre);
  }

  /** Reversible part of the polarisation in tesla: µ0 χ H. */
  double reversibleTesla(double netAmperesPerMetre) {
    return Mu0.TESLA_PER_AMPERE_PER_METRE * susceptibility * netAmperesPerMetre;
  }

  /** F as in the type's equations, without the factor √(2 Js). */
  double factor(double fieldAmperesPerMetre) {
    return 0.5
        * (1 + Math.tanh((fieldAmperesPerMetre - centreAmperesPerMetre) / widthAmperesPerMetre));
  }

  /** Derivative of {@link #factor} in metres per ampere, from its value. */
  double factorSlope(double factor) {
    // 1 − tanh² = 4 F (1 − F)
    return 2 * factor * (1 - factor) / widthAmperesPerMetre;
  }

  /**
   * The Everett function in tesla: the change of the irreversible polarisation as the net field
   * goes from a reversal to another field; negative when it falls.
   */
  public double everettTesla(double toAmperesPerMetre, double fromAmperesPerMetre) {
    double change =
        factor(toAmperesPerMetre) * factor(-fromAmperesPerMetre)
            - factor(-toAmperesPerMetre) * factor(fromAmperesPerMetre);
    return 2 * saturationTesla * change;
  }

  private static void requirePositive(String what, double value) {
    if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("hysteresis needs a " + what + " above zero: " + value);
    }
  }
}
