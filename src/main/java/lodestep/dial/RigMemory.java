package lodestep.dial;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import lodestep.device.ActResult.Lesson;

/**
 * What the rig has taught since the program started: how its field sources answer, and which kinds
 * of magnet are known to be fully charged by its strongest pulse. Any thread, immutable.
 *
 * @param ratios measured over expected, by what answered: a source, or a range of it
 * @param chargeProven kinds for which a charge stronger by half changed the reading by less than
 *     one per cent
 */
public record RigMemory(Map<String, Double> ratios, Set<String> chargeProven) {

  /** A ratio outside this is a fault of the rig, not something to learn. */
  private static final double RATIO_MAX = 1.25;

  public RigMemory {
    ratios = Map.copyOf(ratios);
    chargeProven = Set.copyOf(chargeProven);
  }

  /** Nothing learned yet. */
  public static RigMemory none() {
    return new RigMemory(Map.of(), Set.of());
  }

  /** Measured over expected of this answer; 1 when not yet known. */
  public double ratio(String of) {
    return ratios.getOrDefault(of, 1.0);
  }

  /** With what the last act showed; a ratio that is no drift is left out. */
  public RigMemory after(Lesson lesson) {
    double ratio = lesson.measured() * ratio(lesson.of()) / lesson.expected();
    if (!(ratio < RATIO_MAX && ratio > 1 / RATIO_MAX)) {
      return this;
    }
    Map<String, Double> more = new HashMap<>(ratios);
    more.put(lesson.of(), ratio);
    return new RigMemory(more, chargeProven);
  }

  /** With one more kind whose charge is proven full. */
  public RigMemory withChargeProven(String kind) {
    Set<String> kinds = new HashSet<>(chargeProven);
    kinds.add(kind);
    return new RigMemory(ratios, kinds);
  }
}
