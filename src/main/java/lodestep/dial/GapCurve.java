package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.device.StrokePlan;
import lodestep.magnet.HardMagnet;
import lodestep.magnet.HardMaterial;
import lodestep.magnet.Shape;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * How the jig's field follows the gap: the field of the opposing magnet as rig.toml tells of it,
 * with what the gauge has corrected. Any thread, immutable.
 *
 * @param strength measured over told, 1 when not yet measured
 * @param heightMetres by how much higher the opposing magnet stands than rig.toml says
 * @param stray flux density at the gauge with the jig parked, signed; part of every zero
 * @param parked all that the gauge showed then, its own offset too; empty if measured by an earlier
 *     program, as that offset wanders
 */
public record GapCurve(
    double strength, double heightMetres, FluxDensity stray, Optional<FluxDensity> parked) {

  /** By rig.toml alone. */
  static final GapCurve TOLD = new GapCurve(1, 0, new FluxDensity(0), Optional.empty());

  /** Not known of the magnet's material and of no weight: the gauge corrects the strength. */
  private static final double RECOIL = 1.05;

  /** The opposing magnet as rig.toml tells of it. */
  public static HardMagnet magnet(JigConfig jig) {
    JigConfig.Opposing told = jig.magnet();
    return new HardMagnet(
        new HardMaterial(
            "opposing magnet", told.remanence(), new FieldStrength(1e6), RECOIL, "rig.toml"),
        new Shape.Rod(told.diameter(), told.length()));
  }

  /** Flux density that one tesla per told strength makes at the gauge, without sign. */
  static double gaugeTesla(HardMagnet magnet, double distanceMetres) {
    return magnet.polarisationTesla()
        * magnet.shape().faceFieldPerPolarisation(new Length(Math.max(0, distanceMetres)));
  }

  /**
   * Fields at work of this height by rig.toml alone, for positions from {@link #MARGIN} spacings
   * before home to as many behind the lowest; rising. Some milliseconds.
   */
  static List<Double> told(JigConfig jig, Length workHeight) {
    HardMagnet magnet = magnet(jig);
    List<Double> fields = new ArrayList<>();
    int last = points(jig, workHeight) + MARGIN;
    for (int i = -MARGIN; i < last; i++) {
      Length at = Length.ofMicroMetres((long) i * StrokePlan.SPACING_MICRO_METRES);
      double gap = Math.max(0, jig.gap(at, workHeight).metres());
      fields.add(magnet.meanFieldThrough(new Length(gap), workHeight).amperesPerMetre());
    }
    return fields;
  }

  private static int points(JigConfig jig, Length workHeight) {
    return (int) (jig.lowest(workHeight).microMetres() / StrokePlan.SPACING_MICRO_METRES) + 2;
  }

  /**
   * Fields from home to the lowest position, one for every {@link StrokePlan#SPACING_MICRO_METRES}:
   * those told, moved by the height and made stronger or weaker.
   */
  List<Double> fields(List<Double> told) {
    double shift = heightMetres / (StrokePlan.SPACING_MICRO_METRES * 1e-6);
    List<Double> fields = new ArrayList<>();
    for (int i = MARGIN; i < told.size() - MARGIN; i++) {
      double place = Math.max(0, Math.min(told.size() - 1.001, i - shift));
      int below = (int) place;
      double growth = told.get(below + 1) / told.get(below);
      fields.add(strength * told.get(below) * Math.pow(growth, place - below));
    }
    return fields;
  }

  /** A reading of the gauge with nothing in the nest. */
  public record Station(Length position, FluxDensity seen) {}

  private static final int MARGIN = 12;

  /** By how much the magnet may stand otherwise than rig.toml says. */
  private static final double HEIGHT_METRES_MAX = 3e-3;

  private static final double STRENGTH_MIN = 0.6;
  private static final double STRENGTH_MAX = 1.4;
  private static final int HEIGHTS = 601;

  /** What a measurement of the curve comes to. */
  public sealed interface Measured {

    /**
     * It fits.
     *
     * @param strayUncertainty standard uncertainty of the stray field
     */
    record Fits(GapCurve curve, FluxDensity strayUncertainty) implements Measured {}

    /** It does not, and why. */
    record Refused(String why) implements Measured {}

    /** The curve if it fits. */
    default Optional<Fits> fits() {
      return this instanceof Fits fits ? Optional.of(fits) : Optional.empty();
    }
  }

  /**
   * Fits strength and height to what the gauge saw, and an offset of its own: for each height of a
   * fine grid the straight line of least squares through seen against told; the height with the
   * least residuals wins.
   *
   * @param stations at least four, the first at the park position
   */
  public static Measured measured(JigConfig jig, Length standOff, List<Station> stations) {
    HardMagnet magnet = magnet(jig);
    double sign = jig.magnet().northFaces() ? 1 : -1;
    Fit best = new Fit(0, 0, 0, Double.POSITIVE_INFINITY);
    for (int i = 0; i < HEIGHTS; i++) {
      double height = HEIGHT_METRES_MAX * (2.0 * i / (HEIGHTS - 1) - 1);
      Fit fit = Fit.at(height, stations, at -> sign * told(jig, standOff, magnet, at, height));
      best = fit.squares() < best.squares() ? fit : best;
    }
    String pole = jig.magnet().northFaces() ? "north" : "south";
    if (best.slope() < -STRENGTH_MIN) {
      return new Measured.Refused(
          "the opposing magnet is the wrong way round: rig.toml says that its "
              + pole
              + " face looks at the work; turn it over, or mend magnet_faces_work");
    }
    if (!(best.slope() >= STRENGTH_MIN && best.slope() <= STRENGTH_MAX)) {
      return new Measured.Refused(
          String.format(
              Locale.ROOT,
              "the opposing magnet shows %.0f %% of the field that rig.toml tells of; see that it"
                  + " is on its carriage, and its sizes, remanence and height in rig.toml",
              best.slope() * 100));
    }
    double stray =
        sign
            * best.slope()
            * told(jig, standOff, magnet, stations.get(0).position(), best.height());
    double noise = Math.sqrt(best.squares() / Math.max(1, stations.size() - 3));
    GapCurve curve =
        new GapCurve(
            best.slope(),
            best.height(),
            new FluxDensity(stray),
            Optional.of(stations.get(0).seen()));
    return new Measured.Fits(curve, new FluxDensity(noise));
  }

  /** A good Hall element's own offset, and the field of the room; starting value. */
  private static final double OFFSET_TESLA = 5e-3;

  /** Noise and wander between two heights; starting value. */
  private static final double BETWEEN_TESLA = 2e-3;

  /**
   * Whether the newest reading is more than any jig of rig.toml can make over an empty nest: by
   * itself at the first height, from there on by what it has grown. Then a magnet lies there and
   * must not be approached. A weak one shows less than that, and an uncharged one nothing.
   *
   * @param stations at least one, the first at the park position
   */
  public static boolean moreThanTheJig(JigConfig jig, Length standOff, List<Station> stations) {
    HardMagnet magnet = magnet(jig);
    Station first = stations.get(0);
    Station last = stations.get(stations.size() - 1);
    double most = STRENGTH_MAX * told(jig, standOff, magnet, last.position(), -HEIGHT_METRES_MAX);
    return stations.size() == 1
        ? Math.abs(last.seen().tesla()) > most + OFFSET_TESLA
        : Math.abs(last.seen().tesla() - first.seen().tesla()) > most + BETWEEN_TESLA;
  }

  private static double told(
      JigConfig jig, Length standOff, HardMagnet magnet, Length position, double height) {
    double distance = jig.heightAtHome().metres() + height - position.metres() + standOff.metres();
    return gaugeTesla(magnet, distance);
  }

  private interface Told {
    double tesla(Length position);
  }

  private record Fit(double height, double slope, double offset, double squares) {
    static Fit at(double height, List<Station> stations, Told told) {
      double n = stations.size();
      double x = 0;
      double y = 0;
      double xx = 0;
      double xy = 0;
      for (Station station : stations) {
        double toldTesla = told.tesla(station.position());
        x += toldTesla;
        y += station.seen().tesla();
        xx += toldTesla * toldTesla;
        xy += toldTesla * station.seen().tesla();
      }
      double slope = (xy - x * y / n) / (xx - x * x / n);
      double offset = (y - slope * x) / n;
      double squares = 0;
      for (Station station : stations) {
        double off = station.seen().tesla() - offset - slope * told.tesla(station.position());
        squares += off * off;
      }
      return new Fit(height, slope, offset, squares);
    }
  }
}
