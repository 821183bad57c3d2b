package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.dial.Purpose;
import lodestep.measure.SettledReading;
import lodestep.quantity.FluxDensity;

/**
 * How far the work by hand has come. Any thread, immutable.
 *
 * @param asFound the first settled reading
 * @param last the newest settled reading
 * @param passes approaches since the charge, or since the pole turned, oldest first
 * @param beforeProof the reading that a weaker approach must not move
 * @param lateTesla by how much stray field the hand overshoots the word "stop"; learned
 * @param otherSideTesla how near the last approach came that turned the pole; 0 when none did
 * @param saturation whether its charge was a full one
 */
record HandProgress(
    Optional<SettledReading> asFound,
    Optional<SettledReading> last,
    List<Pass> passes,
    Optional<SettledReading> beforeProof,
    double lateTesla,
    double otherSideTesla,
    HandSaturation saturation,
    Counts counts) {

  /**
   * One approach of the opposing magnet.
   *
   * @param nearTesla by how much it pulled the reading down at its nearest, what it took for good
   *     left out: the nearer the more
   * @param levelTesla settled reading after it, along the pole it began with
   */
  record Pass(double nearTesla, double levelTesla) {}

  /** Acts so far. */
  record Counts(
      int acts, int charges, int knockDowns, int demagnetising, int recharges, int proofs) {
    static final Counts NONE = new Counts(0, 0, 0, 0, 0, 0);

    Counts plus(Purpose purpose, boolean recharge) {
      return new Counts(
          acts + 1,
          charges + (purpose == Purpose.CHARGE ? 1 : 0),
          knockDowns + (purpose == Purpose.KNOCK_DOWN ? 1 : 0),
          demagnetising + (purpose == Purpose.DEMAGNETISE ? 1 : 0),
          recharges + (recharge ? 1 : 0),
          proofs + (purpose == Purpose.PROOF ? 1 : 0));
    }
  }

  HandProgress {
    passes = List.copyOf(passes);
  }

  static HandProgress none() {
    return new HandProgress(
        Optional.empty(),
        Optional.empty(),
        List.of(),
        Optional.empty(),
        0,
        0,
        HandSaturation.NONE,
        Counts.NONE);
  }

  /** The newest reading's value, signed; zero before the first. */
  FluxDensity lastValue() {
    return last.map(SettledReading::value).orElse(new FluxDensity(0));
  }

  HandProgress withReading(SettledReading reading) {
    return new HandProgress(
        asFound.isPresent() ? asFound : Optional.of(reading),
        Optional.of(reading),
        passes,
        beforeProof,
        lateTesla,
        otherSideTesla,
        saturation,
        counts);
  }

  HandProgress counting(Purpose purpose) {
    boolean recharge = purpose == Purpose.CHARGE && counts.charges() > 0 && !passes.isEmpty();
    return new HandProgress(
        asFound,
        last,
        passes,
        beforeProof,
        lateTesla,
        otherSideTesla,
        saturation,
        counts.plus(purpose, recharge));
  }

  /** After a charge: the curve begins anew. */
  HandProgress cleared() {
    return new HandProgress(
        asFound, last, List.of(), Optional.empty(), lateTesla, otherSideTesla, saturation, counts);
  }

  /** After the pole has turned: approaches come from the other side now. */
  HandProgress turned() {
    double near = passes.stream().mapToDouble(Pass::nearTesla).max().orElse(0);
    return new HandProgress(
        asFound, last, List.of(), Optional.empty(), lateTesla, near, saturation, counts);
  }

  HandProgress withPass(Pass pass, double newLateTesla) {
    List<Pass> more = new ArrayList<>(passes);
    more.add(pass);
    return new HandProgress(
        asFound, last, more, beforeProof, newLateTesla, otherSideTesla, saturation, counts);
  }

  HandProgress provingFrom(Optional<SettledReading> reading) {
    return new HandProgress(
        asFound, last, passes, reading, lateTesla, otherSideTesla, saturation, counts);
  }

  HandProgress with(HandSaturation full) {
    return new HandProgress(
        asFound, last, passes, beforeProof, lateTesla, otherSideTesla, full, counts);
  }
}
