package lodestep.ledger;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lodestep.port.LedgerArchive;
import lodestep.port.StockEvent.PickupBuilt;
import lodestep.port.StockEvent.PoleTopRead;
import lodestep.port.StockEvent.ReturnJudged;

/**
 * A finished pickup with everything that was read of it. Any thread, immutable.
 *
 * @param number of the event that names it
 * @param wall when that was, by the wall clock
 * @param rounds readings of its pole tops, oldest first
 * @param judged return checks, oldest first
 */
public record Pickup(
    long number, Instant wall, PickupBuilt built, List<Round> rounds, List<Judged> judged) {

  public Pickup {
    rounds = List.copyOf(rounds);
    judged = List.copyOf(judged);
  }

  /**
   * One reading of all its pole tops.
   *
   * @param round which, from 1
   * @param stage "as built", "as found" or "as returned"
   * @param wall of its last reading, by the wall clock
   * @param poles in the order of the strings; a pole read twice in it counts as read last
   */
  public record Round(long round, String stage, Instant wall, List<PoleTopRead> poles) {
    public Round {
      poles = List.copyOf(poles);
    }
  }

  /** A return check on record, and its number. */
  public record Judged(long number, Instant wall, ReturnJudged event) {}

  /** All there are, in the order they were built; errors are the archive's. */
  public static List<Pickup> all(LedgerArchive archive) {
    List<LedgerEntry> built = LedgerEntry.all(archive, PickupBuilt.class);
    List<LedgerEntry> read = LedgerEntry.all(archive, PoleTopRead.class);
    List<LedgerEntry> judged = LedgerEntry.all(archive, ReturnJudged.class);
    List<Pickup> pickups = new ArrayList<>();
    for (LedgerEntry entry : built) {
      pickups.add(
          new Pickup(
              entry.number(),
              entry.wall(),
              (PickupBuilt) entry.event(),
              rounds(entry.number(), read),
              judged(entry.number(), judged)));
    }
    return List.copyOf(pickups);
  }

  /** Their names, to be searched. */
  public static MagnetNames names(List<Pickup> pickups) {
    return new MagnetNames(
        pickups.stream()
            .map(pickup -> new MagnetNames.Named(pickup.number(), pickup.built().name()))
            .toList());
  }

  /** The newest whole round of this stage. */
  public Optional<Round> newest(String stage) {
    return rounds.stream()
        .filter(round -> round.stage().equals(stage))
        .filter(round -> round.poles().size() == built.poles())
        .reduce((earlier, later) -> later);
  }

  /** The newest whole round that was read before it came back, if there was one. */
  public Optional<Round> delivered() {
    return newest("as built").or(() -> newest("as found"));
  }

  /** The number that the next round has. */
  public long nextRound() {
    return rounds.stream().mapToLong(Round::round).max().orElse(0) + 1;
  }

  private static List<Round> rounds(long pickup, List<LedgerEntry> read) {
    Map<Long, Map<Long, PoleTopRead>> poles = new TreeMap<>();
    Map<Long, Instant> walls = new TreeMap<>();
    for (LedgerEntry entry : read) {
      if (entry.event() instanceof PoleTopRead top && top.pickup() == pickup) {
        poles.computeIfAbsent(top.round(), round -> new TreeMap<>()).put(top.pole(), top);
        walls.put(top.round(), entry.wall());
      }
    }
    List<Round> rounds = new ArrayList<>();
    poles.forEach(
        (round, tops) -> {
          List<PoleTopRead> all = List.copyOf(tops.values());
          Instant wall = walls.getOrDefault(round, Instant.EPOCH);
          rounds.add(new Round(round, all.get(0).stage(), wall, all));
        });
    return rounds;
  }

  private static List<Judged> judged(long pickup, List<LedgerEntry> entries) {
    return entries.stream()
        .filter(entry -> entry.event() instanceof ReturnJudged judged && judged.pickup() == pickup)
        .map(entry -> new Judged(entry.number(), entry.wall(), (ReturnJudged) entry.event()))
        .toList();
  }
}
