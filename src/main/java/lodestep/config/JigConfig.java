package lodestep.config;

import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;

/**
 * A reverse jig: a carriage on a self-locking lead screw that brings an opposing magnet down over
 * the work and back to its park position. Positions count from the home switch, at the end away
 * from the work, towards the work. Any thread, immutable.
 *
 * @param heightAtHome from the nest's floor, on which the work stands, to the opposing magnet's
 *     face while the carriage is at home
 * @param smallestGap the opposing magnet never comes nearer to the work's face than this
 * @param budget the carriage's way in one attempt, there and back counted; a magnet that needs more
 *     is refused
 * @param temperatureMax of the motor, above which nothing is moved; its thermometer is the head's
 *     coil channel on a rig with no coil
 */
public record JigConfig(
    Screw screw,
    Opposing magnet,
    Length heightAtHome,
    Length smallestGap,
    Length budget,
    Temperature temperatureMax) {

  /**
   * Screw, motor and way.
   *
   * @param pitch way of one turn, at most 2 mm: then the screw holds by itself
   * @param stepsPerTurn as the driver is set, micro-steps counted
   * @param travel from the home switch to the far switch
   * @param park from the home switch, so far that the switch is closed there
   * @param millimetresPerSecond of the carriage, at most 5
   */
  public record Screw(
      Length pitch, int stepsPerTurn, Length travel, Length park, double millimetresPerSecond) {

    /** Way of one step in metres. */
    public double stepMetres() {
      return pitch.metres() / stepsPerTurn;
    }
  }

  /**
   * The opposing magnet, round and charged along its axis.
   *
   * @param remanence of its material by the data sheet: the first guess of its field, which the
   *     gauge then corrects
   * @param northFaces whether its north face looks at the work
   */
  public record Opposing(
      Length diameter, Length length, FluxDensity remanence, boolean northFaces) {}

  /** Whole strokes, there and back over the whole travel, that the budget allows one attempt. */
  public int strokesMax() {
    // The figures are in metres; six strokes' worth, written in millimetres, is six strokes.
    return (int) Math.floor(budget.metres() / (2 * screw.travel().metres()) + 1e-9);
  }

  /**
   * The lowest position the carriage may take over work of this height: the far switch or the
   * smallest gap, whichever comes first.
   */
  public Length lowest(Length workHeight) {
    double atGap = heightAtHome.metres() - workHeight.metres() - smallestGap.metres();
    return new Length(Math.min(atGap, screw.travel().metres() - FAR_MARGIN_METRES));
  }

  /** Gap between the two faces at this position. */
  public Length gap(Length position, Length workHeight) {
    return new Length(heightAtHome.metres() - workHeight.metres() - position.metres());
  }

  /** Position at which the two faces are this far apart. */
  public Length position(Length gap, Length workHeight) {
    return new Length(heightAtHome.metres() - workHeight.metres() - gap.metres());
  }

  /** The far switch is a fault's stop and no aim: nothing is sent nearer to it than this. */
  private static final double FAR_MARGIN_METRES = 0.5e-3;
}
