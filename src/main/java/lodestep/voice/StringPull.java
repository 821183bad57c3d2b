package lodestep.voice;

import java.util.Locale;
import lodestep.magnet.Flux;
import lodestep.magnet.FluxSource;
import lodestep.magnet.Place;

/**
 * What a magnet does to a string above it at rest. Any thread, immutable.
 *
 * <p>A thin round wire of high permeability across a field is magnetised by M = 2H, whatever its
 * permeability (its demagnetising factor across is one half; Osborn, Phys. Rev. 67, 351, 1945). The
 * energy of a piece of it is -(A/&mu;0)B&sup2; a metre, so that pull and stiffness are the first
 * and second derivative of the integral of B&sup2; along the string. The part of the field that
 * runs along the string is left out: it is nothing above the middle of a pole. A small added
 * stiffness s(x) moves a mode by &delta;f = (1/(4&pi;&sup2;f&mu;L)) &int; s sin&sup2;(n&pi;x/L) dx
 * (Rayleigh's principle).
 *
 * <p>Range: fields across the string up to {@value #FIELD_MAX_TESLA} T, where its steel is far from
 * saturated; amplitudes small beside the distance.
 *
 * @param fieldTesla across the string, above the middle of the pole
 * @param gradientTeslaPerMetre of it, towards the magnet
 * @param pullNewtons towards the magnet
 * @param acrossHertz change of the fundamental that swings towards the magnet and away
 * @param alongHertz change of the fundamental that swings beside the magnet
 * @param hertz of the string by itself
 */
public record StringPull(
    double fieldTesla,
    double gradientTeslaPerMetre,
    double pullNewtons,
    double acrossHertz,
    double alongHertz,
    double hertz) {

  /** Above this the steel of the string, magnetised by twice the field, is no longer linear. */
  public static final double FIELD_MAX_TESLA = 0.6;

  private static final double MU0 = 4e-7 * Math.PI;

  /** Beside the magnet by so many times the distance, nothing is left of B&sup2;. */
  private static final double REACH = 10;

  private static final int PIECES = 96;

  /** Of the distance; the third derivative is then told to a millionth. */
  private static final double STEP = 0.02;

  /**
   * What this magnet does to this string.
   *
   * @param magnet along z, its centre the origin
   * @param faceMetres from its centre to the face under the strings
   * @param distanceMetres from that face to the middle of the string's core, &gt; 0
   * @param asideMetres by which the string runs beside the middle of the pole
   * @param fromBridge where the pole stands, as part of the length that vibrates; 0 to 1
   * @throws IllegalArgumentException with one sentence, where the range ends
   */
  public static StringPull of(
      FluxSource magnet,
      double faceMetres,
      double distanceMetres,
      double asideMetres,
      SteelString string,
      double fromBridge) {
    requireAbove(distanceMetres, string);
    requireUnder(fromBridge, string);
    double height = faceMetres + distanceMetres;
    Flux here = magnet.at(new Place(0, asideMetres, height));
    if (!(Math.hypot(here.yTesla(), here.zTesla()) <= FIELD_MAX_TESLA)) {
      throw new IllegalArgumentException(
          "the field at the string is beyond " + FIELD_MAX_TESLA + " T, where its steel saturates");
    }
    Above above = new Above(magnet, asideMetres, height, string, fromBridge, distanceMetres);
    double step = STEP * distanceMetres;
    double nearer = above.squares(0, -step, false);
    double farther = above.squares(0, step, false);
    double part = string.coreSquareMetres() / MU0;
    double modal = above.squares(0, 0, true);
    double acrossCurve =
        (above.squares(0, step, true) - 2 * modal + above.squares(0, -step, true)) / (step * step);
    double alongCurve =
        (above.squares(step, 0, true) - 2 * modal + above.squares(-step, 0, true)) / (step * step);
    double perStiffness =
        1
            / (4
                * Math.PI
                * Math.PI
                * string.hertz()
                * string.kilogramsPerMetre()
                * string.scale().metres());
    double below = magnet.at(new Place(0, asideMetres, height - step)).zTesla();
    double over = magnet.at(new Place(0, asideMetres, height + step)).zTesla();
    return new StringPull(
        Math.abs(here.zTesla()),
        Math.abs(below - over) / (2 * step),
        part * (nearer - farther) / (2 * step),
        -part * acrossCurve * perStiffness,
        -part * alongCurve * perStiffness,
        string.hertz());
  }

  /** Refuses a string that would touch the pole, its winding counted. */
  static void requireAbove(double distanceMetres, SteelString string) {
    if (!(distanceMetres > 0.5 * string.outside().metres())) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "a string of %.2f mm touches the pole where its middle is %.2f mm above it; give it"
                  + " more than %.2f mm",
              string.outside().mm(),
              1e3 * distanceMetres,
              0.5 * string.outside().mm()));
    }
  }

  /** Refuses a pole that does not stand under what vibrates. */
  static void requireUnder(double fromBridge, SteelString string) {
    if (!(fromBridge > 0 && fromBridge < 1)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "a pole stands under what vibrates of the string, between the bridge and where it is"
                  + " stopped, which is %.0f mm; not %.0f mm from the bridge",
              string.scale().mm(),
              fromBridge * string.scale().mm()));
    }
  }

  /** The same for a field so many times as strong: everything goes by its square. */
  public StringPull times(double factor) {
    double square = factor * factor;
    return new StringPull(
        Math.abs(factor) * fieldTesla,
        Math.abs(factor) * gradientTeslaPerMetre,
        square * pullNewtons,
        square * acrossHertz,
        square * alongHertz,
        hertz);
  }

  /**
   * The signal beside that of another level of the same pickup, in decibels: by the field, as a
   * string is magnetised in proportion to it (N. G. Horton, T. R. Moore, Am. J. Phys. 77, 144,
   * 2009; from its abstract).
   */
  public double decibelsBeside(StringPull other) {
    return 20 * Math.log10(fieldTesla / other.fieldTesla);
  }

  /** By how much the swing towards the magnet is out of tune, in cents; below zero is flat. */
  public double cents() {
    return 1200 * Math.log1p(acrossHertz / hertz) / Math.log(2);
  }

  /** Beats between the two directions of swing, in hertz. */
  public double splittingHertz() {
    return Math.abs(acrossHertz - alongHertz);
  }

  /** The string above the magnet. */
  private record Above(
      FluxSource magnet,
      double aside,
      double height,
      SteelString string,
      double fromBridge,
      double distance) {

    /**
     * Integral of B&sup2; across the string along it, in T&sup2;m, by Simpson's rule over u, x =
     * distance sinh u: close pieces above the pole, wide ones far off.
     *
     * @param modal whether each piece counts by how far the fundamental moves it
     */
    double squares(double byAside, double byHeight, boolean modal) {
      double reach =
          Math.min(
              REACH * (distance + 2e-3), 0.9 * Math.min(fromBridge, 1 - fromBridge) * length());
      double ratio = reach / distance;
      double piece = 2 * Math.log(ratio + Math.hypot(ratio, 1)) / PIECES;
      double sum = 0;
      for (int at = 0; at <= PIECES; at++) {
        // Mirrored exactly, so that places on both sides are known to be alike.
        double u = (at - PIECES / 2) * piece;
        double x = distance * Math.sinh(u);
        Flux flux = magnet.at(new Place(x, aside + byAside, height + byHeight));
        double square = flux.yTesla() * flux.yTesla() + flux.zTesla() * flux.zTesla();
        double moves = modal ? Math.sin(Math.PI * (fromBridge + x / length())) : 1;
        int weight = at == 0 || at == PIECES ? 1 : at % 2 == 1 ? 4 : 2;
        sum += weight * square * moves * moves * Math.cosh(u);
      }
      return sum * piece * distance / 3;
    }

    private double length() {
      return string.scale().metres();
    }
  }
}
