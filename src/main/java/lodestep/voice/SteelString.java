package lodestep.voice;

import java.util.Locale;
import lodestep.quantity.Length;

/**
 * A string with a round core of magnetic steel. Any thread, immutable.
 *
 * @param core diameter of the core, {@link #CORE_MIN_MM} to {@link #CORE_MAX_MM}
 * @param outside over the winding; of a plain string the core's own
 * @param kilogramsPerMetre of the whole string, winding and all
 * @param scale length that vibrates, {@link #SCALE_MIN_MM} to {@link #SCALE_MAX_MM}
 * @param hertz it is tuned to
 */
public record SteelString(
    Length core, Length outside, double kilogramsPerMetre, Length scale, double hertz) {

  /** Thicker plain strings are sold wound. Common practice, no source. */
  public static final double PLAIN_MAX_MM = 0.8;

  /** Over the winding of the lowest string of a bass. Common practice, no source. */
  public static final double OUTSIDE_MAX_MM = 4;

  /** Of the outside to the core, with the finest winding there is. Common practice, no source. */
  public static final double WOUND_RATIO_MIN = 1.2;

  /** The same with the thickest. Common practice, no source. */
  public static final double WOUND_RATIO_MAX = 4;

  /** Thinner and thicker cores are on no instrument. Common practice, no source. */
  public static final double CORE_MIN_MM = 0.15;

  /** See {@link #CORE_MIN_MM}. */
  public static final double CORE_MAX_MM = 1.6;

  /** From the last fret of a short instrument to a long bass. Common practice, no source. */
  public static final double SCALE_MIN_MM = 100;

  /** See {@link #SCALE_MIN_MM}. */
  public static final double SCALE_MAX_MM = 950;

  /** Of plain carbon steel; from memory, as handbooks round it. */
  static final double STEEL_KG_PER_CUBIC_METRE = 7850;

  /** Of a winding of nickel or of nickel-plated steel, between the two; from memory. */
  static final double WINDING_KG_PER_CUBIC_METRE = 8400;

  /** Music wire of the thinnest sizes breaks at about this; from memory. */
  private static final double BREAKS_PASCAL = 3.0e9;

  /** Less than this rattles on the frets. Common practice, no source. */
  private static final double SLACK_NEWTON = 15;

  /**
   * @throws IllegalArgumentException with one sentence naming the figure that no string has
   */
  public SteelString {
    require("core", core, CORE_MIN_MM, CORE_MAX_MM);
    require("outside diameter", outside, CORE_MIN_MM, OUTSIDE_MAX_MM);
    scale(scale);
    double steel = STEEL_KG_PER_CUBIC_METRE * area(core);
    if (!(kilogramsPerMetre >= 0.95 * steel && kilogramsPerMetre < 0.1)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "a string of %.2f g/m does not go with a core of %s, which alone has %.2f g/m",
              1e3 * kilogramsPerMetre,
              core.written(),
              1e3 * steel));
    }
    double tension = tension(kilogramsPerMetre, scale, hertz);
    if (!(tension >= SLACK_NEWTON)) {
      throw new IllegalArgumentException(
          said("at %.1f Hz it hangs slack, with %.1f N", hertz, tension));
    }
    if (!(tension / area(core) <= BREAKS_PASCAL)) {
      throw new IllegalArgumentException(
          said("at %.1f Hz it breaks: %.0f N on its core", hertz, tension));
    }
  }

  /**
   * A length that vibrates.
   *
   * @throws IllegalArgumentException with one sentence, if no string has it
   */
  static Length scale(Length scale) {
    require("scale length", scale, SCALE_MIN_MM, SCALE_MAX_MM);
    return scale;
  }

  /** A plain one of steel. */
  public static SteelString plain(Length diameter, Length scale, double hertz) {
    require("diameter", diameter, CORE_MIN_MM, OUTSIDE_MAX_MM);
    if (diameter.mm() > PLAIN_MAX_MM) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "a plain string of %s is none that is made, up to %s mm; write a wound one as over"
                  + " all/core",
              diameter.written(),
              PLAIN_MAX_MM));
    }
    return new SteelString(
        diameter, diameter, STEEL_KG_PER_CUBIC_METRE * area(diameter), scale, hertz);
  }

  /**
   * A wound one. A round wire of diameter d laid closely on a core of diameter c has a length of
   * &pi;(c + d)/d for each metre of string; one layer.
   *
   * @param outside diameter over the winding
   * @throws IllegalArgumentException if the winding is no winding
   */
  public static SteelString wound(Length outside, Length core, Length scale, double hertz) {
    double wire = 0.5 * (outside.metres() - core.metres());
    if (!(wire > 2e-5)) {
      throw new IllegalArgumentException(
          "a wound string of " + outside.written() + " has no core of " + core.written());
    }
    double ratio = outside.metres() / core.metres();
    if (!(ratio >= WOUND_RATIO_MIN && ratio <= WOUND_RATIO_MAX)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "a wound string of %s over a core of %s is none that is made: over all is %s to %s"
                  + " times the core",
              outside.written(),
              core.written(),
              WOUND_RATIO_MIN,
              WOUND_RATIO_MAX));
    }
    double winding =
        WINDING_KG_PER_CUBIC_METRE * 0.25 * Math.PI * Math.PI * wire * (core.metres() + wire);
    return new SteelString(
        core, outside, STEEL_KG_PER_CUBIC_METRE * area(core) + winding, scale, hertz);
  }

  /** The same string stopped at a fret of equal temperament; 0 is the open string. */
  public SteelString stopped(int fret) {
    double part = Math.pow(2, -fret / 12.0);
    return new SteelString(
        core, outside, kilogramsPerMetre, new Length(scale.metres() * part), hertz / part);
  }

  /** Tension in newtons. Mersenne's law: T = &mu;(2Lf)&sup2;. */
  public double tensionNewtons() {
    return tension(kilogramsPerMetre, scale, hertz);
  }

  /** Cross-section of the core in square metres. */
  public double coreSquareMetres() {
    return area(core);
  }

  private static double tension(double kilogramsPerMetre, Length scale, double hertz) {
    double speed = 2 * scale.metres() * hertz;
    return kilogramsPerMetre * speed * speed;
  }

  private static double area(Length diameter) {
    return 0.25 * Math.PI * diameter.metres() * diameter.metres();
  }

  private static void require(String which, Length length, double leastMm, double mostMm) {
    if (!(length.mm() >= leastMm && length.mm() <= mostMm)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "the string's %s of %s is none that is made: %s to %s mm",
              which,
              length.written(),
              leastMm,
              mostMm));
    }
  }

  private static String said(String form, Object... values) {
    return "the string cannot be tuned so: " + String.format(Locale.ROOT, form, values);
  }
}
