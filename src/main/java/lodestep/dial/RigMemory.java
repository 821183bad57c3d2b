package lodestep.dial;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.device.ActResult.Lesson;
import lodestep.device.RigWear;
import lodestep.quantity.Temperature;

/**
 * What the rig has taught since the program started: how its field sources answer, and which kinds
 * of magnet are known to be fully charged by its strongest pulse. Any thread, immutable.
 *
 * @param ratios measured over expected, by what answered: a source, or a range of it
 * @param chargeProven kinds for which a charge stronger by half changed the reading by less than
 *     one per cent, each with that reading: tesla, without sign
 * @param gap how the jig's field follows the gap; without a jig of no meaning
 * @param curves what the newest magnets of each kind have shown, the oldest first
 * @param wear of its parts, by its record
 * @param even when a magnet was last seen to be as warm as its nest; empty after one that was not
 */
public record RigMemory(
    Map<String, Double> ratios,
    Map<String, Double> chargeProven,
    GapCurve gap,
    Map<String, List<MagnetCurve>> curves,
    RigWear wear,
    Optional<SeenEven> even) {

  /**
   * A magnet was as warm as its nest.
   *
   * @param gauge temperature at the gauge then
   * @param atNs monotonic time
   */
  public record SeenEven(Temperature gauge, long atNs) {

    /** Magnets of one box are alike for so long. Common practice, no source. */
    private static final long HOLDS_NS = 900_000_000_000L;

    /** A nest that has become warmer than this over the magnets makes 0.1 per cent of alnico. */
    private static final double HOLDS_KELVIN = 5;

    boolean holds(Temperature now, long nowNs) {
      return nowNs - atNs < HOLDS_NS && Math.abs(now.kelvin() - gauge.kelvin()) < HOLDS_KELVIN;
    }
  }

  /** A ratio outside this is a fault of the rig, not something to learn. */
  private static final double RATIO_MAX = 1.25;

  /** Older magnets of a kind say nothing that these do not. */
  private static final int CURVES_MAX = 24;

  public RigMemory {
    ratios = Map.copyOf(ratios);
    chargeProven = Map.copyOf(chargeProven);
    curves = Map.copyOf(curves);
  }

  /** Nothing learned yet. */
  public static RigMemory none() {
    return new RigMemory(
        Map.of(), Map.of(), GapCurve.TOLD, Map.of(), RigWear.UNKNOWN, Optional.empty());
  }

  /** Measured over expected of this answer; 1 when not yet known. */
  public double ratio(String of) {
    return ratios.getOrDefault(of, 1.0);
  }

  /** What magnets of this kind have shown, the oldest first. */
  public List<MagnetCurve> curves(String kind) {
    return curves.getOrDefault(kind, List.of());
  }

  /** With what the last act showed; a ratio that is no drift is left out. */
  public RigMemory after(Lesson lesson) {
    double ratio = lesson.measured() * ratio(lesson.of()) / lesson.expected();
    if (!(ratio < RATIO_MAX && ratio > 1 / RATIO_MAX)) {
      return this;
    }
    Map<String, Double> more = new HashMap<>(ratios);
    more.put(lesson.of(), ratio);
    return new RigMemory(more, chargeProven, gap, curves, wear, even);
  }

  /** Whether charges of this kind are known to be full. */
  public boolean chargeProven(String kind) {
    return chargeProven.containsKey(kind);
  }

  /** With one more kind whose charge is proven full, and what that one read: tesla, no sign. */
  public RigMemory withChargeProven(String kind, double fullTesla) {
    Map<String, Double> kinds = new HashMap<>(chargeProven);
    kinds.put(kind, fullTesla);
    return new RigMemory(ratios, kinds, gap, curves, wear, even);
  }

  /** With a gap curve that the gauge has measured. */
  public RigMemory with(GapCurve measured) {
    return new RigMemory(ratios, chargeProven, measured, curves, wear, even);
  }

  /** With what one more magnet of this kind has shown. */
  public RigMemory with(String kind, MagnetCurve curve) {
    List<MagnetCurve> all = new ArrayList<>(curves(kind));
    all.add(curve);
    Map<String, List<MagnetCurve>> more = new HashMap<>(curves);
    more.put(kind, List.copyOf(all.subList(Math.max(0, all.size() - CURVES_MAX), all.size())));
    return new RigMemory(ratios, chargeProven, gap, more, wear, even);
  }

  /** With a magnet that was seen to be as warm as its nest, or that was seen not to be. */
  RigMemory with(Optional<SeenEven> seen) {
    return new RigMemory(ratios, chargeProven, gap, curves, wear, seen);
  }

  /** With what is known of the wear of its parts. */
  public RigMemory with(RigWear known) {
    return new RigMemory(ratios, chargeProven, gap, curves, known, even);
  }
}
