package lodestep.magnet;

import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.TimeSpan;

/**
 * What time alone takes from a magnet, without a field and at one temperature: B(t) = B(t₀) − S
 * ln(t/t₀). Pure; any thread.
 *
 * <p>Source of the law: R. Street, J. C. Woolley, Proc. Phys. Soc. A62, 562 (1949), and L. Néel
 * (1950). S depends on the field and on what went before; nobody has published it for alnico. Two
 * cases are told apart, each with a figure of its own, to be measured at the rig:
 *
 * <ul>
 *   <li>A magnet on its <b>descending branch</b>, as a fully charged one is: thermal agitation acts
 *       as an opposing field H<sub>f</sub> ln(t/t₀), whose loss the loop says ({@link #actsAs}). A
 *       knock-down that took more is remembered, and nothing further is lost.
 *   <li>A magnet on its <b>recoil line</b>, just knocked down: what is left is creeping on that
 *       line, far less and a part of the polarisation for each decade ({@link #creptPart}). It
 *       matters for readings in the seconds after a pulse and for nothing later.
 * </ul>
 *
 * <p>Valid from a millisecond to a hundred years after the last pulse. Reversible change with
 * temperature is {@link ReversibleTemperature}'s.
 */
public final class SlowRelaxation {

  /**
   * H<sub>f</sub>, assumed: with it a fully charged rod of alnico 5 loses the 3 per cent in 100,000
   * h that a public design guide gives as the most.
   */
  static final double FLUCTUATION_AMPERES_PER_METRE = 105;

  /** Part of the polarisation lost in a decade on the recoil line; assumed. */
  private static final double CREPT_PER_DECADE = 1e-4;

  /** From when on the decades of the recoil line count; shorter than any reading can look. */
  private static final double CREEPS_FROM_SECONDS = 1e-3;

  private static final double SECONDS_MAX = 100 * 365.25 * 86_400;

  private SlowRelaxation() {}

  /**
   * The opposing field as which this time acts on a magnet on its descending branch.
   *
   * @param fromSeconds after the last pulse, from when the level is known; &gt; 0
   * @param toSeconds after the last pulse
   * @throws IllegalArgumentException if a time is out of range
   */
  public static FieldStrength actsAs(double fromSeconds, double toSeconds) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(fromSeconds > 0 && toSeconds >= fromSeconds && toSeconds <= SECONDS_MAX)) {
      throw new IllegalArgumentException(
          "a magnet is kept from a first reading on, and for a hundred years at most");
    }
    return new FieldStrength(FLUCTUATION_AMPERES_PER_METRE * Math.log(toSeconds / fromSeconds));
  }

  /**
   * What time alone takes of a magnet's level: creeping, and of one that was knocked down by less
   * than time acts as, what the loop loses beyond that.
   *
   * @param curve of a nominal magnet of its kind
   * @param full what a nominal one reads fully charged, without sign
   * @param level what it reads, without sign
   * @param remembered its largest reverse peak since its full charge, without sign; 0 if none
   * @param from after the last pulse, from when the level is known; above 0
   * @param to after the last pulse
   * @throws IllegalArgumentException if a time is out of range
   */
  public static FluxDensity takes(
      KnockDownCurve curve,
      FluxDensity full,
      FluxDensity level,
      FieldStrength remembered,
      TimeSpan from,
      TimeSpan to) {
    double crept = level.tesla() * (creptPart(to.seconds()) - creptPart(from.seconds()));
    double acts = actsAs(from.seconds(), to.seconds()).amperesPerMetre();
    double beyond =
        curve.fractionAt(remembered.amperesPerMetre())
            - curve.fractionAt(Math.max(acts, remembered.amperesPerMetre()));
    return new FluxDensity(crept + Math.max(0, beyond) * full.tesla());
  }

  /**
   * Part of its polarisation that a magnet on its recoil line has lost by creeping.
   *
   * @param seconds after the last pulse that moved it, &ge; 0
   */
  public static double creptPart(double seconds) {
    return CREPT_PER_DECADE * Math.log10(1 + seconds / CREEPS_FROM_SECONDS);
  }
}
