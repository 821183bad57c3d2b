package lodestep.dial;

import java.util.HashMap;
import java.util.Map;
import lodestep.device.ActResult.Lesson;

/**
 * What the rig has taught since the program started: how its field sources answer, and which kinds
 * of magnet are known to be fully charged by its strongest pulse. Any thread, immutable.
 *
 * @param ratios measured over expected, by what answered: a source, or a range of it
 * @param chargeProven kinds for which a charge stronger by half changed the reading by less than
 *     one per cent, each with that reading: tesla, without sign
 * @param gap how the jig's field follows the gap; without a jig of no meaning
 */
public record RigMemory(
    Map<String, Double> ratios, Map<String, Double> chargeProven, GapCurve gap) {

  /** A ratio outside this is a fault of the rig, not something to learn. */
  private static final double RATIO_MAX = 1.25;

  public RigMemory {
    ratios = Map.copyOf(ratios);
    chargeProven = Map.copyOf(chargeProven);
  }

  /** Nothing learned yet. */
  public static RigMemory none() {
    return new RigMemory(Map.of(), Map.of(), GapCurve.TOLD);
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
    return new RigMemory(more, chargeProven, gap);
  }

  /** Whether charges of this kind are known to be full. */
  public boolean chargeProven(String kind) {
    return chargeProven.containsKey(kind);
  }

  /** With one more kind whose charge is proven full, and what that one read: tesla, no sign. */
  public RigMemory withChargeProven(String kind, double fullTesla) {
    Map<String, Double> kinds = new HashMap<>(chargeProven);
    kinds.put(kind, fullTesla);
    return new RigMemory(ratios, kinds, gap);
  }

  /** With a gap curve that the gauge has measured. */
  public RigMemory with(GapCurve measured) {
    return new RigMemory(ratios, chargeProven, measured);
  }

  /** With a ratio from the record, as it stands. */
  public RigMemory withRatio(String of, double ratio) {
    Map<String, Double> more = new HashMap<>(ratios);
    more.put(of, ratio);
    return new RigMemory(more, chargeProven, gap);
  }
}
