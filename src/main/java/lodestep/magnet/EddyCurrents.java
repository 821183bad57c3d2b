package lodestep.magnet;

import lodestep.quantity.FieldStrength;

/**
 * How long eddy currents keep a pulse out of the middle of a magnet. Any thread, immutable.
 *
 * <p>A small change follows the diffusion of a material of constant slope µ<sub>d</sub>: the
 * slowest part dies with τ = µ0 µ<sub>d</sub> a²/(ρ 2.405²) in a rod of radius a, and with µ0
 * µ<sub>d</sub> (2d/π)²/ρ in a bar 2d thin. A charge that turns the magnet over goes in as a front
 * behind which all is saturated, and is at the middle after ΔB a²/(4 ρ (H₀ − Hc)) or ΔB d²/(2 ρ (H₀
 * − Hc)). End effects and the currents in a holder of metal are left out. The loop's reversible
 * term, which in truth dies out towards saturation, is kept at every field: a magnet follows a
 * little sooner than is said here. Source: any text on magnetic diffusion; the front as in R. M.
 * Bozorth, Ferromagnetism (1951), and W. MacLean, J. Appl. Phys. 25, 1267 (1954), from memory.
 *
 * @param halfMetres radius of a rod, or half of a bar's smallest size across its axis of charge;
 *     above zero
 * @param round whether it is a rod
 * @param ohmMetres resistivity of the alloy, above zero
 */
public record EddyCurrents(double halfMetres, boolean round, double ohmMetres) {

  /** First zero of the Bessel function J₀. */
  private static final double BESSEL_ZERO = 2.404825557695773;

  /**
   * A half-sine with a base of ten times the front's way in at its peak: the middle then sees the
   * peak to within a per cent, which a test shows by solving the diffusion.
   */
  private static final double BASE_PER_FRONT = 10;

  /**
   * @throws IllegalArgumentException naming the figure that is not above zero
   */
  public EddyCurrents {
    Sizes.requireAboveZero("half a magnet's size across", halfMetres);
    // Negated comparison on purpose: it also rejects NaN.
    if (!(ohmMetres > 0 && ohmMetres < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          "a resistivity has to be above zero: " + ohmMetres + " ohm metres");
    }
  }

  /**
   * Of a magnet of this shape. A ring is taken as a rod without a hole, which takes longer: there
   * is less to turn over, and the hole's own flux is small beside that.
   */
  public static EddyCurrents of(Shape shape, double ohmMetres) {
    if (shape instanceof Shape.Rod rod) {
      return new EddyCurrents(0.5 * rod.diameter().metres(), true, ohmMetres);
    }
    if (shape instanceof Shape.Ring ring) {
      return new EddyCurrents(0.5 * ring.outside().metres(), true, ohmMetres);
    }
    Prism edges = ((Shape.Bar) shape).edges();
    return new EddyCurrents(0.5 * Math.min(edges.a(), edges.b()), false, ohmMetres);
  }

  /**
   * Time constant of a small change, in seconds.
   *
   * @param slope µ<sub>d</sub>, relative, at least 1: dB/dH over µ0
   */
  public double diffusionSeconds(double slope) {
    double reach = round ? halfMetres / BESSEL_ZERO : 2 * halfMetres / Math.PI;
    return Mu0.TESLA_PER_AMPERE_PER_METRE * slope * reach * reach / ohmMetres;
  }

  /**
   * The slope that acts in a magnet standing by itself, where its poles work against each change: 1
   * + χ/(1 + N χ).
   *
   * @param slope µ<sub>d</sub> = 1 + χ of the material
   * @param demagnetisingFactor N, 0 to 1
   */
  public static double shearedSlope(double slope, double demagnetisingFactor) {
    double chi = slope - 1;
    return 1 + chi / (1 + demagnetisingFactor * chi);
  }

  /**
   * How long a field that is switched on at once takes to turn the middle over, in seconds;
   * infinite if it is not above the coercivity.
   *
   * @param swingTesla change of flux density behind the front, above zero
   * @param field at the surface
   * @param coercivity of the alloy
   */
  public double frontSeconds(double swingTesla, FieldStrength field, FieldStrength coercivity) {
    double drive = field.amperesPerMetre() - coercivity.amperesPerMetre();
    double way = halfMetres * halfMetres / (round ? 4 : 2);
    return drive > 0 ? swingTesla * way / (ohmMetres * drive) : Double.POSITIVE_INFINITY;
  }

  /**
   * Shortest base of a half-sine, in seconds, whose peak the whole magnet sees when it is charged
   * against a full charge of the other sign, the worst case.
   *
   * @param peak net field inside that is wanted, above the loop's centre
   */
  public double leastBaseSeconds(Hysteresis loop, FieldStrength peak) {
    double top = loop.descendingTesla(peak.amperesPerMetre());
    double swing =
        top + loop.saturationTesla() + Mu0.TESLA_PER_AMPERE_PER_METRE * peak.amperesPerMetre();
    FieldStrength centre = new FieldStrength(loop.centreAmperesPerMetre());
    return BASE_PER_FRONT * frontSeconds(swing, peak, centre);
  }
}
