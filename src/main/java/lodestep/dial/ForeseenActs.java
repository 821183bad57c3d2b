package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;

/**
 * How many acts a magnet is expected to take that has not been begun. Any thread, immutable.
 *
 * @param charges charges by the rig, &ge; 0
 * @param least other acts, proof counted, of one that is as expected
 * @param most other acts of one that is as unlike that as is still usual, at least the least
 */
public record ForeseenActs(int charges, int least, int most) {

  private static final Temperature ROOM = Temperature.ofDegC(20);

  /** More knock-downs than this are no plan but a magnet unlike its kind. */
  private static final int KNOCK_DOWNS_MAX = 20;

  /**
   * A magnet that is not as expected is come nearer to by so many pulses more; by the yardstick.
   */
  private static final int MORE = 2;

  /** Pulses that leave nothing, and small safe steps of a magnet with an unknown past; the same. */
  private static final int SEARCH_LEAST = 2;

  private static final int SEARCH_MOST = 8;

  /** Of the next reading, for the planner's own choice; a gauge's wander. */
  private static final double READ_TESLA = 1e-5;

  /**
   * By the planner's belief: a nominal magnet of its kind is brought down pulse by pulse as the
   * planner would choose them; some milliseconds.
   *
   * @param dial an attempt that has not begun
   */
  public static ForeseenActs of(Dial dial) {
    Work work = dial.work();
    if (work.again().isPresent()) {
      return new ForeseenActs(0, 0, 0);
    }
    int charges = charges(work, dial.memory());
    return work.task()
        .match(
            level -> {
              int downs = knockDowns(work, dial.memory(), level);
              return new ForeseenActs(charges, downs + 1, downs + 1 + MORE);
            },
            down -> new ForeseenActs(0, SEARCH_LEAST, SEARCH_MOST),
            none -> new ForeseenActs(0, SEARCH_LEAST, SEARCH_MOST),
            full -> new ForeseenActs(charges, 0, 0));
  }

  private static int charges(Work work, RigMemory memory) {
    if (work.charge().isEmpty()) {
      return 0;
    }
    return memory.chargeProven(work.kind()) ? 1 : 2;
  }

  private static int knockDowns(Work work, RigMemory memory, Task.ToLevel task) {
    RigNow now = new RigNow(ROOM, memory);
    FieldSource.Doubt doubt = work.knockDown().doubt(work.coercivity(), now);
    double expected = work.expectedFull().tesla();
    double full = memory.chargeProven().getOrDefault(work.kind(), expected);
    double target = task.target().magnitude().tesla();
    double half = task.tolerance().tesla();
    LotKnown lot = new LotKnown(work.family(), expected, doubt, memory.curves(work.kind()));
    Fields fields = work.knockDown().fields(now);
    List<Progress.Point> points = new ArrayList<>(List.of(new Progress.Point(0, full)));
    while (last(points).levelTesla() > target + half && points.size() <= KNOCK_DOWNS_MAX) {
      MagnetBelief belief = lot.promise(List.of(List.copyOf(points))).belief();
      BeliefAim aim = new BeliefAim(belief, target, half, READ_TESLA, doubt.delivered());
      Optional<FieldStrength> field =
          fields
              .atMost(aim.wanted())
              .filter(can -> can.amperesPerMetre() > last(points).fieldAperM())
              .or(() -> fields.above(new FieldStrength(last(points).fieldAperM())));
      if (field.isEmpty()) {
        return points.size();
      }
      double peak = field.get().amperesPerMetre();
      points.add(new Progress.Point(peak, full * work.curve().fractionAt(peak)));
    }
    return points.size() - 1;
  }

  private static Progress.Point last(List<Progress.Point> points) {
    return points.get(points.size() - 1);
  }
}
