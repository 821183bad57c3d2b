package lodestep.magnet;

import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * What a kind of magnet keeps of its level: against a field that opposes it, a swing of
 * temperature, and time. Any thread, immutable.
 *
 * <p>A magnet that has been knocked down by a peak field remembers it: a weaker opposing field
 * leaves it as it was. Each disturbance is told as the opposing field that would do the same, and
 * takes what that field takes beyond the peak remembered.
 *
 * <ul>
 *   <li>Time: thermal agitation acts as a field H<sub>f</sub> ln(t/t₀), the fluctuation field of
 *       Street and Woolley (Proc. Phys. Soc. A62, 562, 1949) and Néel. Nobody has published it for
 *       alnico; {@value #FLUCTUATION_AMPERES_PER_METRE} A/m is assumed, with which a fully charged
 *       rod of alnico 5 loses the 3 per cent in 100,000 h that a public design guide gives as the
 *       most.
 *   <li>Temperature: the demagnetising field and the coercivity change by their coefficients; the
 *       field that the first gains on the second opposes. Reversible change is not in it.
 * </ul>
 *
 * <p>Valid for −40 to 120 °C, ten seconds to a hundred years, a magnet by itself with no steel
 * near, and a field that is the same all through it. Shock is not in it: no figure has been
 * published.
 */
public final class Keeping {

  static final double FLUCTUATION_AMPERES_PER_METRE = 105;

  /** Swings beyond this leave the range in which the coefficients hold. */
  private static final double KELVIN_MAX = 100;

  private static final double SECONDS_MAX = 100 * 365.25 * 86_400;

  private final FaceModel kind;
  private final KnockDownCurve curve;
  private final double fullTesla;

  private Keeping(FaceModel kind, KnockDownCurve curve, double fullTesla) {
    this.kind = kind;
    this.curve = curve;
    this.fullTesla = fullTesla;
  }

  /**
   * Of a nominal magnet of this kind.
   *
   * @param standOff at which levels are read
   */
  public static Keeping of(FaceModel kind, Length standOff) {
    double reach = 2 * kind.alloy().coercivityJ().amperesPerMetre();
    KnockDownCurve curve = KnockDownCurve.of(kind, standOff, new FieldStrength(reach));
    return new Keeping(kind, curve, kind.chargedField(standOff).tesla());
  }

  /** Its full charge, without sign. */
  public FluxDensity full() {
    return new FluxDensity(fullTesla);
  }

  /**
   * The peak of the reverse pulse that leaves this level, without sign: also the strongest opposing
   * field that leaves the level alone.
   *
   * @param level without sign
   * @throws IllegalArgumentException if a full charge reads less
   */
  public FieldStrength peakFor(FluxDensity level) {
    if (!(level.tesla() > 0 && level.tesla() <= fullTesla)) {
      throw new IllegalArgumentException(
          "a level of "
              + level.inGauss()
              + " is not one of this magnet's, which reads "
              + full().inGauss()
              + " fully charged");
    }
    return new FieldStrength(curve.fieldFor(level.tesla() / fullTesla));
  }

  /** What a reverse peak leaves of a full charge; zero at the least. */
  public FluxDensity levelAfter(FieldStrength peak) {
    return new FluxDensity(fullTesla * Math.max(0, curve.fractionAt(peak.amperesPerMetre())));
  }

  /**
   * What an opposing field takes of a level.
   *
   * @param level without sign
   * @param opposing without sign
   */
  public FluxDensity lossTo(FluxDensity level, FieldStrength opposing) {
    FieldStrength remembered = peakFor(level);
    return opposing.compareTo(remembered) <= 0
        ? new FluxDensity(0)
        : new FluxDensity(Math.max(0, level.tesla() - levelAfter(opposing).tesla()));
  }

  /**
   * The opposing field as which this time acts.
   *
   * @param fromSeconds after the last pulse, from when the level is known; &gt; 0
   * @param toSeconds after the last pulse
   * @throws IllegalArgumentException if a time is out of range
   */
  public static FieldStrength ofTime(double fromSeconds, double toSeconds) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(fromSeconds > 0 && toSeconds >= fromSeconds && toSeconds <= SECONDS_MAX)) {
      throw new IllegalArgumentException(
          "a magnet is kept from a first reading on, and for a hundred years at most");
    }
    return new FieldStrength(FLUCTUATION_AMPERES_PER_METRE * Math.log(toSeconds / fromSeconds));
  }

  /**
   * The opposing field as which a swing of temperature acts on a magnet of this level, the worse of
   * warmer and colder.
   *
   * @param kelvin to either side, 0 to 100
   * @throws IllegalArgumentException if it is out of range, or a coefficient is not known of the
   *     alloy
   */
  public FieldStrength ofTemperature(FluxDensity level, double kelvin) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(kelvin >= 0 && kelvin <= KELVIN_MAX)) {
      throw new IllegalArgumentException("a swing of temperature is 0 to 100 K, not " + kelvin);
    }
    double remanence = kind.alloy().figure(Figure.REMANENCE_PER_KELVIN);
    double coercivity = kind.alloy().figure(Figure.COERCIVITY_PER_KELVIN);
    double warm = (1 + remanence * kelvin) / (1 + coercivity * kelvin) - 1;
    double cold = (1 - remanence * kelvin) / (1 - coercivity * kelvin) - 1;
    double own =
        kind.model().demagnetisingFactor()
            * polarisationTesla(level)
            / Mu0.TESLA_PER_AMPERE_PER_METRE;
    return new FieldStrength(own * Math.max(0, Math.max(warm, cold)));
  }

  /** Mean polarisation at this level. */
  private double polarisationTesla(FluxDensity level) {
    FieldStrength reverse = new FieldStrength(-peakFor(level).amperesPerMetre());
    MagnetModel model = kind.model();
    return model.polarisationTesla(model.afterPulse(model.charged(), reverse));
  }

  /**
   * What a magnet of this level reads elsewhere on its axis.
   *
   * @param level at the stand-off this was made for, without sign
   * @param standOff other distance from the pole face
   */
  public FluxDensity readsAt(FluxDensity level, Length standOff) {
    return new FluxDensity(kind.at(standOff).tesla(polarisationTesla(level)));
  }
}
