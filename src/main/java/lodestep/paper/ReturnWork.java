package lodestep.paper;

import java.util.List;
import java.util.Optional;
import lodestep.bench.PoleWork;
import lodestep.ledger.Pickup;
import lodestep.magnet.AlloyBook;
import lodestep.port.StockEvent.ReturnJudged;

/**
 * A pickup that is to be checked: what is on record of it before it is read, and what follows from
 * the readings. Every refusal is an {@link IllegalArgumentException} with one sentence. Any thread,
 * immutable.
 *
 * @param magnets of it that are on record and accepted
 * @param before what it can be held against; empty if nothing was read of it
 */
public record ReturnWork(
    Pickup pickup, List<ReturnCase.Magnet> magnets, Optional<ReturnCase.Before> before) {

  public ReturnWork {
    magnets = List.copyOf(magnets);
  }

  /** What is known of it now. */
  public static ReturnWork of(Things things, Pickup pickup) {
    List<ReturnCase.Magnet> magnets = things.magnets(pickup);
    Optional<ReturnCase.Before> before =
        pickup
            .delivered()
            .<ReturnCase.Before>map(ReturnCase.Before.Tops::new)
            .or(
                () ->
                    magnets.isEmpty()
                        ? Optional.empty()
                        : Optional.of(new ReturnCase.Before.Loose()));
    return new ReturnWork(pickup, magnets, before);
  }

  /** As what it is read: where there is nothing to hold it against, as found. */
  public String stage() {
    return before.isEmpty() ? PoleWork.AS_FOUND : PoleWork.AS_RETURNED;
  }

  /** The round it is held against. */
  public Optional<Pickup.Round> round() {
    return before.flatMap(
        known ->
            known instanceof ReturnCase.Before.Tops tops
                ? Optional.of(tops.round())
                : Optional.empty());
  }

  /** That nothing can be said, where nothing was read before. */
  public String nothingBefore() {
    return "Cannot tell: nothing was read of "
        + pickup.built().name()
        + " before. What it reads now is on record as found.";
  }

  /**
   * What the readings of this round come to.
   *
   * @param things as they stand after the round
   * @param counts the smallest relative change that counts as one
   * @param book of alloys
   */
  public ReturnReport report(Things things, long asked, double counts, AlloyBook book) {
    Pickup now =
        things
            .pickup(String.valueOf(pickup.number()))
            .orElseThrow(() -> new IllegalArgumentException("the pickup is not on record"));
    Pickup.Round round =
        now.rounds().stream()
            .filter(each -> each.round() == asked)
            .findFirst()
            .orElseThrow(
                () ->
                    new IllegalArgumentException("the readings are not on record; read it again"));
    ReturnCase.Before known =
        before.orElseThrow(() -> new IllegalArgumentException(nothingBefore()));
    long earlier =
        known instanceof ReturnCase.Before.Tops tops
            ? tops.round().poles().get(0).calibration()
            : things.levels(now.built().magnets()).stream()
                .flatMap(level -> level.history().readings().stream())
                .mapToLong(reading -> reading.calibration())
                .max()
                .orElse(0);
    ReturnCase of =
        new ReturnCase(
            now,
            magnets,
            known,
            round,
            new ReturnCase.Gauges(
                things.calibration(earlier),
                things.calibration(round.poles().get(0).calibration())),
            counts);
    ReturnCheck check = of.check(book);
    ReturnCheck.Result result = check.result();
    Optional<String> taken =
        result.verdict() == ReturnCheck.Verdict.LOST
            ? of.whatTakes(result.decided().change(), book)
            : Optional.empty();
    return new ReturnReport(of, check, result, taken);
  }

  /** The newest round, if it is whole, was read after a return, and has not been judged yet. */
  public static Optional<Pickup.Round> toJudge(Pickup pickup) {
    return pickup
        .newest(PoleWork.AS_RETURNED)
        .filter(
            round -> pickup.judged().stream().noneMatch(old -> old.event().now() == round.round()));
  }

  /**
   * A check on record once more.
   *
   * @param number of its entry
   * @param things as they stand now
   * @throws IllegalArgumentException also when it was judged by other settings than the usual ones,
   *     which its entry does not tell
   */
  public static ReturnReport again(Things things, long number, AlloyBook book) {
    Things then = things.asOf(number);
    Pickup pickup =
        then.pickups().stream()
            .filter(one -> one.judged().stream().anyMatch(old -> old.number() == number))
            .findFirst()
            .orElseThrow(
                () -> new IllegalArgumentException("entry " + number + " is no return check"));
    ReturnJudged judged =
        pickup.judged().stream()
            .filter(old -> old.number() == number)
            .map(Pickup.Judged::event)
            .findFirst()
            .orElseThrow();
    ReturnReport report = of(then, pickup).report(then, judged.now(), ReturnCase.COUNTS, book);
    if (!report.entry().equals(judged)) {
      throw new IllegalArgumentException(
          "this check was judged by another smallest change, or by another version; its entry"
              + " says: "
              + judged.why());
    }
    return report;
  }
}
