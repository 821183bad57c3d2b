package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/**
 * What the planner believes of the magnet at work, for those who watch. Pure; well under a
 * millisecond, and asks nothing of the attempt.
 */
public final class Foreseen {

  /** Below this part of a nominal full charge nobody takes it for charged. */
  private static final double CHARGED_PART = 0.3;

  private static final Temperature ROOM = Temperature.ofDegC(20);

  private Foreseen() {}

  /**
   * The knock-down curve expected of it, by the levels from its full charge downwards; empty until
   * it is charged and read, and where it is not brought to a level.
   */
  public static List<Explained.FieldFor> curve(Dial dial) {
    List<Progress.Point> points = dial.progress().points();
    boolean toLevel = dial.work().task() instanceof Task.ToLevel;
    if (points.isEmpty() || !toLevel || dial.progress().last().isEmpty() || !tookCharge(dial)) {
      return List.of();
    }
    Expectation expected =
        Expectation.of(
            dial.work(),
            new RigNow(ROOM, dial.memory()),
            dial.progress(),
            dial.progress().last().orElseThrow());
    return Explained.curve(expected.belief(), points.get(0).levelTesla());
  }

  /** A magnet that did not take its charge has no curve to be believed of. */
  private static boolean tookCharge(Dial dial) {
    double least = CHARGED_PART * dial.work().expectedFull().tesla();
    return dial.progress().rounds().stream()
        .allMatch(round -> !round.isEmpty() && round.get(0).levelTesla() > least);
  }

  /**
   * What it is judged by now, signed; empty where there is no level to come to.
   *
   * @return the target, and half the width of the tolerance
   */
  public static Optional<Task.ToLevel> level(Dial dial) {
    Band band = Band.of(dial);
    return band.target().tesla() != 0
        ? Optional.of(new Task.ToLevel(band.target(), band.tolerance()))
        : Optional.empty();
  }

  /** The full charge that a nominal magnet of its kind reads, without sign. */
  public static FluxDensity expectedFull(Dial dial) {
    return dial.work().expectedFull();
  }
}
