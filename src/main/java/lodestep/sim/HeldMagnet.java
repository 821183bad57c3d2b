package lodestep.sim;

/**
 * The opposing magnet where the hand holds it now. Any thread, immutable.
 *
 * @param gapMetres between its face and the work's, &ge; 0
 * @param drivesNorth whether its field drives the gauge's face north
 */
public record HeldMagnet(HandMagnet magnet, double gapMetres, boolean drivesNorth) {

  /** Field at the work in A/m, without sign. */
  double atWork() {
    return magnet.atWork(gapMetres);
  }

  /** Flux density it adds at the gauge, in tesla, signed. */
  double atGauge(double standOffMetres) {
    double size = magnet.atGauge(gapMetres, standOffMetres);
    return drivesNorth ? size : -size;
  }
}
