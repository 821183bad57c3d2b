package lodestep.dial;

import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Move.Finish;
import lodestep.dial.Move.Fire;
import lodestep.measure.SettledReading;

/**
 * Holds an attempt to the acts its source may make, and keeps in hand what a move must be followed
 * by: a level that no act is left to prove would be refused though it is right. Pure.
 *
 * @param source what knocks down
 */
record StrokeBudget(FieldSource source) {

  /** Why this move is not to be made any more; empty when it is. */
  Optional<Finish> objection(Fire fire, Progress progress, SettledReading reading) {
    int made = progress.counts().pulses() - progress.counts().charges();
    int left = source.actsMax() - made;
    if (needs(fire, progress) <= left) {
      return Optional.empty();
    }
    String why =
        String.format(
            Locale.ROOT,
            "the travel budget of this %s is used up: it reads %s after %d %s%s; raise"
                + " travel_budget in rig.toml, or ask for a wider tolerance",
            source.noun(),
            reading.value().inGauss(),
            made,
            made == 1 ? "stroke" : "strokes",
            rest(fire, left));
    Verdict verdict = fire.purpose() == Purpose.CHARGE ? Verdict.RECHARGE_NEEDED : Verdict.REFUSED;
    return Optional.of(new Finish(verdict, why));
  }

  /** Acts with which this move makes sense, itself among them if it is one. */
  private static int needs(Fire fire, Progress progress) {
    return switch (fire.purpose()) {
      case KNOCK_DOWN -> 2;
      case PROOF, DEMAGNETISE -> 1;
      // Nobody is asked for a new charge that cannot be knocked down and proven any more.
      case CHARGE -> progress.largestReverseAperM() > 0 ? 2 : 0;
    };
  }

  private static String rest(Fire fire, int left) {
    if (fire.purpose() == Purpose.PROOF) {
      return ", and the last of them, its proof, moved it";
    }
    return left > 0 ? ", and the one that is left is kept for the proof" : "";
  }
}
