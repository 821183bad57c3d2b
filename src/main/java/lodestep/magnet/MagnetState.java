package lodestep.magnet;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * What a magnet remembers of the fields it has seen, at zero applied field. Any thread, immutable;
 * belongs to the {@link MagnetModel} that made it.
 */
public final class MagnetState {

  static final MagnetState UNCHARGED = new MagnetState(Turn.ORIGIN);

  private final Turn now;

  MagnetState(Turn now) {
    this.now = now;
  }

  Turn now() {
    return now;
  }

  /** Whether the magnet has never seen a field. */
  public boolean isUncharged() {
    return now.isOrigin();
  }

  /** How many turns of the applied field are remembered; the smaller ones have been wiped out. */
  public int turns() {
    int count = 0;
    for (Turn turn = now; !turn.isOrigin(); turn = turn.below()) {
      count++;
    }
    return count;
  }

  /** The state seen from the other pole: every field and polarisation with the other sign. */
  public MagnetState turnedOver() {
    Deque<Turn> topFirst = new ArrayDeque<>();
    for (Turn turn = now; !turn.isOrigin(); turn = turn.below()) {
      topFirst.push(turn);
    }
    Turn mirrored = Turn.ORIGIN;
    for (Turn turn : topFirst) {
      mirrored =
          new Turn(
              -turn.appliedAmperesPerMetre(),
              -turn.netAmperesPerMetre(),
              -turn.irreversibleTesla(),
              mirrored);
    }
    return new MagnetState(mirrored);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof MagnetState state && sameTurns(now, state.now);
  }

  /** A loop and no recursion: a long demagnetisation leaves hundreds of turns. */
  private static boolean sameTurns(Turn one, Turn other) {
    while (!one.isOrigin() && !other.isOrigin()) {
      if (one.appliedAmperesPerMetre() != other.appliedAmperesPerMetre()
          || one.netAmperesPerMetre() != other.netAmperesPerMetre()) {
        return false;
      }
      one = one.below();
      other = other.below();
    }
    return one.isOrigin() == other.isOrigin();
  }

  @Override
  public int hashCode() {
    return Double.hashCode(now.netAmperesPerMetre() + 0.0);
  }
}
