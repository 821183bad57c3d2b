package lodestep.sim;

import java.util.Optional;

/**
 * The magnet in the nest under the jig's opposing magnet: the field grows and shrinks as the
 * carriage goes, and what grows beyond its past peak is felt. Confined to its plant.
 */
final class OpposedWork {

  /** The work has felt the opposing field as soon as it has grown by this part. */
  private static final double GROWN = 1.005;

  /** Weaker fields do nothing to any magnet worth the name, in A/m. */
  private static final double NOTHING_AMPERES_PER_METRE = 1e3;

  private Optional<SeatedMagnet> felt = Optional.empty();
  private double feltAtMetres;
  private double feltAmperesPerMetre;
  private boolean stillFelt;

  /** One millisecond. */
  void step(Optional<Carriage> carriage, Optional<SeatedMagnet> seated) {
    if (carriage.isEmpty() || seated.isEmpty()) {
      felt = Optional.empty();
      return;
    }
    SeatedMagnet magnet = seated.get();
    double position = carriage.get().positionMetres();
    boolean same = felt.isPresent() && felt.get() == magnet;
    boolean still = same && position == feltAtMetres;
    if (still && stillFelt) {
      return;
    }
    stillFelt = still;
    feltAtMetres = position;
    feltAmperesPerMetre = same ? feltAmperesPerMetre : 0;
    felt = seated;
    HeldMagnet opposing = carriage.get().over(magnet.heightMetres());
    double field = opposing.atWork();
    if (field > NOTHING_AMPERES_PER_METRE && field > feltAmperesPerMetre * (still ? 1 : GROWN)) {
      feltAmperesPerMetre = field;
      boolean north = opposing.drivesNorth();
      magnet.applyPulse(north ? field : 0, north ? 0 : field, north);
    }
  }

  /** A pulse has passed: what the work has felt of the jig before counts no more. */
  void forget() {
    felt = Optional.empty();
  }
}
