package lodestep.magnet;

import java.util.Optional;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;

/**
 * A winding's room filled with one wire. Any thread, immutable.
 *
 * @param winding with as many turns as there is room for
 * @param wire the whole of it
 */
public record CoilDesign(Winding winding, CoilWire wire) {

  /** Over the enamel to bare: common practice for round winding wire, no source. */
  private static final double OVER_ENAMEL = 1.10;

  /**
   * The room for a close coil around a magnet: a round one around a rod or a ring, a slot around a
   * bar.
   *
   * @param clearance from the magnet's side to the copper, for former and slide, &ge; 0
   * @param depth of copper, above zero
   * @param overhang by which the coil stands over the magnet at each end, &ge; 0
   */
  public static Winding roomAround(Shape work, Length clearance, Length depth, Length overhang) {
    double gap = clearance.metres();
    double length = work.height().metres() + 2 * overhang.metres();
    if (work instanceof Shape.Bar bar) {
      Prism edges = bar.edges();
      return new Winding.Rectangular(
          edges.a() + 2 * gap, edges.b() + 2 * gap, depth.metres(), length, 1);
    }
    Length across =
        work instanceof Shape.Ring ring ? ring.outside() : ((Shape.Rod) work).diameter();
    double inner = 0.5 * across.metres() + gap;
    return new Winding.Round(inner, inner + depth.metres(), length, 1);
  }

  /**
   * The room filled with wire in even layers, turn upon turn; nothing if not one turn goes in.
   *
   * @param room its own turns are not looked at; it has a depth
   * @param copperMetres diameter of the bare wire, above zero
   */
  public static Optional<CoilDesign> wound(Winding room, double copperMetres) {
    double pitch = OVER_ENAMEL * copperMetres;
    double turns = Math.floor(room.depthMetres() / pitch) * Math.floor(room.lengthMetres() / pitch);
    return turns < 1
        ? Optional.empty()
        : Optional.of(
            new CoilDesign(
                room.withTurns(turns), new CoilWire(copperMetres, turns * room.turnMetres())));
  }

  /** Diameter of the wire with its enamel, in metres. */
  public double overEnamelMetres() {
    return OVER_ENAMEL * wire.diameterMetres();
  }

  /** Layers, one over the other. */
  public double layers() {
    return Math.floor(winding.depthMetres() / overEnamelMetres());
  }

  /** Turns side by side in each of them. */
  public double turnsOfALayer() {
    return winding.turns() / layers();
  }

  /** For one ampere, the field in A/m in the very middle: there it is strongest on the axis. */
  public double middleFieldPerAmp() {
    return winding.perAmpere().at(Place.onAxis(0)).zTesla() / Mu0.TESLA_PER_AMPERE_PER_METRE;
  }

  /** Resistance in ohms at this temperature of the winding, without leads. */
  public double ohmsAt(Temperature copper) {
    return wire.ohmsAt(copper);
  }

  /** Inductance in henries, in air. Some milliseconds. */
  public double inductanceHenries() {
    return winding.inductanceHenries();
  }

  /** For one ampere, the least field in A/m anywhere on the axis of a work piece in its middle. */
  public double leastFieldPerAmp(Shape work) {
    return new FieldInWork(winding.perAmpere(), work).least().amperesPerMetre();
  }

  /** For one ampere, the field in A/m, mean over a work piece in its middle. */
  public double meanFieldPerAmp(Shape work) {
    return new FieldInWork(winding.perAmpere(), work).mean().amperesPerMetre();
  }
}
