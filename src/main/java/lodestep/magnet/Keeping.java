package lodestep.magnet;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.interpolation.LinearInterpolator;

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
 * near, and a field that is the same all through it. What a peak leaves is the resolved magnet's
 * down to nothing, and not {@link FaceModel}'s, whose readings end at a part of the full charge.
 * Shock is not in it: no figure has been published.
 */
public final class Keeping {

  /** Reverse peaks, in coercivities, at which it is resolved; closer where it turns over. */
  private static final double[] PEAKS = {
    0, 0.15, 0.3, 0.45, 0.6, 0.75, 0.85, 0.92, 0.97, 1.02, 1.07, 1.12, 1.18, 1.25, 1.4, 1.7, 2
  };

  private final FaceModel kind;
  private final List<FieldStrength> peaks;
  private final List<ResolvedMagnet.Resolved> left;
  private final KnockDownCurve curve;
  private final double fullTesla;

  private Keeping(
      FaceModel kind,
      List<FieldStrength> peaks,
      List<ResolvedMagnet.Resolved> left,
      Length standOff) {
    this.kind = kind;
    this.peaks = peaks;
    this.left = left;
    this.curve = curve(standOff);
    this.fullTesla = kind.chargedField(standOff).tesla();
  }

  /**
   * Of a nominal magnet of this kind.
   *
   * @param standOff at which levels are read
   */
  public static Keeping of(FaceModel kind, Length standOff) {
    double coercivity = kind.alloy().coercivityJ().amperesPerMetre();
    List<FieldStrength> peaks =
        Arrays.stream(PEAKS).mapToObj(part -> new FieldStrength(part * coercivity)).toList();
    ResolvedMagnet magnet = ResolvedMagnet.of(kind.shape(), kind.model().loop());
    return new Keeping(kind, peaks, magnet.knockedDown(peaks), standOff);
  }

  /** The quick model's curve, led through what was resolved: between the peaks as it bends. */
  private KnockDownCurve curve(Length standOff) {
    FieldStrength reach = peaks.get(peaks.size() - 1);
    KnockDownCurve quick = KnockDownCurve.of(kind, standOff, reach);
    Place place = kind.shape().readAt(standOff);
    double full = left.get(0).at(place).zTesla();
    double[] fields = peaks.stream().mapToDouble(FieldStrength::amperesPerMetre).toArray();
    double[] off = new double[fields.length];
    for (int i = 0; i < off.length; i++) {
      off[i] = left.get(i).at(place).zTesla() / full - quick.fractionAt(fields[i]);
    }
    UnivariateFunction correction = new LinearInterpolator().interpolate(fields, off);
    List<Double> fractions = new ArrayList<>();
    double last = 1;
    for (int i = 0; i < quick.fractions().size(); i++) {
      double field = Math.min(i * quick.step().amperesPerMetre(), reach.amperesPerMetre());
      last = Math.min(last, quick.fractions().get(i) + correction.value(field));
      fractions.add(last);
    }
    return new KnockDownCurve(quick.step(), fractions);
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
    double part = curve(standOff).fractionAt(peakFor(level).amperesPerMetre());
    return new FluxDensity(kind.chargedField(standOff).tesla() * Math.max(0, part));
  }
}
