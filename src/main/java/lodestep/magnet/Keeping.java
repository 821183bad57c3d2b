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
 * <p>Time acts as {@link SlowRelaxation} says, a swing of temperature as {@link
 * ReversibleTemperature} makes the demagnetising field gain on the coercivity; what the temperature
 * takes and gives back is not in it.
 *
 * <p>Valid for −40 to 120 °C, ten seconds to a hundred years, a magnet by itself with no steel
 * near, levels of 15 per cent of the full charge and more (below, see {@link FaceModel}), and a
 * field that is the same all through it. Shock is not in it: no figure has been published.
 */
public final class Keeping {

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
   * The opposing field as which a swing of temperature acts on a magnet of this level, the worse of
   * warmer and colder.
   *
   * @param kelvin to either side, 0 to 100
   * @throws IllegalArgumentException if it is out of range, or a coefficient is not known of the
   *     alloy
   */
  public FieldStrength ofTemperature(FluxDensity level, double kelvin) {
    double gain = ReversibleTemperature.of(kind.alloy()).gain(kelvin);
    double own =
        kind.model().demagnetisingFactor()
            * polarisationTesla(level)
            / Mu0.TESLA_PER_AMPERE_PER_METRE;
    return new FieldStrength(own * gain);
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
