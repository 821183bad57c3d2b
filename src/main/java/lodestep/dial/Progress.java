package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.magnet.Neutral;
import lodestep.measure.SettledReading;

/**
 * How far an attempt has come. Any thread, immutable.
 *
 * @param asFound the first settled reading
 * @param last the newest settled reading
 * @param lastMove the newest pulse, once one was delivered
 * @param points the knock-down so far: the state after the charge, then one for each reverse pulse,
 *     peaks growing
 * @param earlier such points of the charges before this one, after each of which it fell below
 * @param firstCharge reading after the first of two charges that prove a full charge
 * @param beforeProof the reading the proof pulse must not move
 * @param rested whether the newest reading was taken after the magnet was let rest, as is asked
 * @param tried pulses that were to leave nothing, each with what it left
 */
public record Progress(
    Optional<SettledReading> asFound,
    Optional<SettledReading> last,
    Optional<Move.Fire> lastMove,
    List<Point> points,
    List<List<Point>> earlier,
    Optional<SettledReading> firstCharge,
    Optional<SettledReading> beforeProof,
    boolean rested,
    List<Neutral.Tried> tried,
    Counts counts) {

  /**
   * A point of this magnet's own curve.
   *
   * @param fieldAperM largest reverse peak since the charge, as delivered, &ge; 0
   * @param levelTesla reading, positive on the pole of the task
   */
  public record Point(double fieldAperM, double levelTesla) {}

  /**
   * Pulses of this attempt.
   *
   * @param pulses all intents
   * @param recharges charges made because it fell below
   * @param proofs proof pulses that moved it
   */
  public record Counts(
      int pulses, int charges, int knockDowns, int recharges, int demagnetising, int proofs) {

    static final Counts NONE = new Counts(0, 0, 0, 0, 0, 0);

    Counts plusPulse(Purpose purpose) {
      return new Counts(
          pulses + 1,
          charges + (purpose == Purpose.CHARGE ? 1 : 0),
          knockDowns + (purpose == Purpose.KNOCK_DOWN ? 1 : 0),
          recharges,
          demagnetising + (purpose == Purpose.DEMAGNETISE ? 1 : 0),
          proofs);
    }

    Counts plusRecharge() {
      return new Counts(pulses, charges, knockDowns, recharges + 1, demagnetising, proofs);
    }

    Counts plusMovedProof() {
      return new Counts(pulses, charges, knockDowns, recharges, demagnetising, proofs + 1);
    }
  }

  public Progress {
    points = List.copyOf(points);
    earlier = List.copyOf(earlier);
    tried = List.copyOf(tried);
  }

  /** Nothing read, nothing fired. */
  public static Progress none() {
    return new Progress(
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        List.of(),
        List.of(),
        Optional.empty(),
        Optional.empty(),
        false,
        List.of(),
        Counts.NONE);
  }

  /** Largest reverse peak since the charge, in A/m. */
  public double largestReverseAperM() {
    return points.isEmpty() ? 0 : points.get(points.size() - 1).fieldAperM();
  }

  /** Largest field of the demagnetising acts so far, in A/m, as far as the newest one tells. */
  double largestDemagnetisingAperM() {
    return lastMove
        .filter(move -> move.purpose() == Purpose.DEMAGNETISE)
        .map(move -> move.field().amperesPerMetre())
        .orElse(0.0);
  }

  /** One more pulse; a charge after a knock-down is a recharge. */
  Progress counting(Purpose purpose) {
    Counts more = counts.plusPulse(purpose);
    boolean recharge = purpose == Purpose.CHARGE && largestReverseAperM() > 0;
    return withCounts(recharge ? more.plusRecharge() : more);
  }

  Progress withCounts(Counts newCounts) {
    return new Progress(
        asFound,
        last,
        lastMove,
        points,
        earlier,
        firstCharge,
        beforeProof,
        rested,
        tried,
        newCounts);
  }

  Progress withPoints(List<Point> newPoints) {
    return new Progress(
        asFound,
        last,
        lastMove,
        newPoints,
        earlier,
        firstCharge,
        beforeProof,
        rested,
        tried,
        counts);
  }

  /** After a delivered pulse; what it did shows with the next reading. */
  Progress fired(Move.Fire move) {
    return new Progress(
        asFound,
        last,
        Optional.of(move),
        points,
        earlier,
        firstCharge,
        move.purpose() == Purpose.PROOF ? last : beforeProof,
        false,
        tried,
        counts);
  }

  Progress withReading(SettledReading reading) {
    return new Progress(
        asFound.isPresent() ? asFound : Optional.of(reading),
        Optional.of(reading),
        lastMove,
        points,
        earlier,
        firstCharge,
        beforeProof,
        rested,
        tried,
        counts);
  }

  /** What the newest pulse, which was to leave nothing, has left. */
  Progress withTried(Neutral.Tried left) {
    List<Neutral.Tried> more = new ArrayList<>(tried);
    more.add(left);
    return new Progress(
        asFound, last, lastMove, points, earlier, firstCharge, beforeProof, rested, more, counts);
  }

  /** Let rest since its newest pulse, as long as is asked. */
  Progress afterRest() {
    return new Progress(
        asFound, last, lastMove, points, earlier, firstCharge, beforeProof, true, tried, counts);
  }

  /** Charged, and read so: its curve begins anew, what was seen of it stays known. */
  Progress chargedTo(double levelTesla) {
    List<List<Point>> before = new ArrayList<>(earlier);
    if (largestReverseAperM() > 0) {
      before.add(points);
    }
    List<Point> anew = List.of(new Point(0, levelTesla));
    return new Progress(
        asFound, last, lastMove, anew, before, firstCharge, beforeProof, rested, tried, counts);
  }

  /** The points of every charge so far whose magnet was knocked down, the newest last. */
  List<List<Point>> rounds() {
    List<List<Point>> all = new ArrayList<>(earlier);
    all.add(points);
    return all;
  }

  Progress withPoint(Point point) {
    List<Point> more = new ArrayList<>(points);
    more.add(point);
    return withPoints(more);
  }

  Progress withFirstCharge(Optional<SettledReading> reading) {
    return new Progress(
        asFound, last, lastMove, points, earlier, reading, beforeProof, rested, tried, counts);
  }
}
