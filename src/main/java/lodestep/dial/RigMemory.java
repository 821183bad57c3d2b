package lodestep.dial;

import java.util.HashSet;
import java.util.Set;

/**
 * What the rig has taught since the program started: how its current answers the bank, and which
 * kinds of magnet are known to be fully charged by its strongest pulse. Any thread, immutable.
 *
 * @param fullRatio measured over expected peak current in the charging range, 1 when not yet known
 * @param seriesRatio the same with the series resistor in
 * @param chargeProven kinds for which a charge stronger by half changed the reading by less than
 *     one per cent
 */
public record RigMemory(double fullRatio, double seriesRatio, Set<String> chargeProven) {

  /** A ratio outside this is a fault of the rig, not something to learn. */
  private static final double RATIO_MAX = 1.25;

  public RigMemory {
    chargeProven = Set.copyOf(chargeProven);
  }

  /** Nothing learned yet. */
  public static RigMemory none() {
    return new RigMemory(1, 1, Set.of());
  }

  /** Measured over expected peak current of this range. */
  public double ratio(boolean full) {
    return full ? fullRatio : seriesRatio;
  }

  /** With the current ratio that the last pulse showed; one that is no drift is left out. */
  public RigMemory withRatio(boolean full, double ratio) {
    if (!(ratio < RATIO_MAX && ratio > 1 / RATIO_MAX)) {
      return this;
    }
    return full
        ? new RigMemory(ratio, seriesRatio, chargeProven)
        : new RigMemory(fullRatio, ratio, chargeProven);
  }

  /** With one more kind whose charge is proven full. */
  public RigMemory withChargeProven(String kind) {
    Set<String> kinds = new HashSet<>(chargeProven);
    kinds.add(kind);
    return new RigMemory(fullRatio, seriesRatio, kinds);
  }
}
