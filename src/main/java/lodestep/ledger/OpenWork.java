package lodestep.ledger;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.ActEnded;
import lodestep.port.LedgerEvent.Intent;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ProgramStarted;
import lodestep.port.LedgerEvent.TripReset;
import lodestep.port.LedgerEvent.Tripped;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StoredEvent;

/**
 * What an earlier run of the program left undone. Any thread, immutable.
 *
 * @param intents acts of a source intended and not ended, by the number of the intent, in rising
 *     order: each may have been carried out
 * @param magnets attempts without a verdict, by the magnet's number, in the order they were
 *     started: each begins again with a charge
 * @param trip the trip that was not reset at the rig
 */
public record OpenWork(
    Map<Long, Intent> intents, Map<Long, Attempt> magnets, Optional<Tripped> trip) {

  public OpenWork {
    intents = Collections.unmodifiableMap(new LinkedHashMap<>(intents));
    magnets = Collections.unmodifiableMap(new LinkedHashMap<>(magnets));
  }

  /**
   * An attempt that was begun.
   *
   * @param purposes of the acts on it so far, in their order, carried out or not
   */
  public record Attempt(MagnetStarted started, List<String> purposes) {

    public Attempt {
      purposes = List.copyOf(purposes);
    }

    private Attempt and(String purpose) {
      List<String> more = new ArrayList<>(purposes);
      more.add(purpose);
      return new Attempt(started, more);
    }

    private long count(String purpose) {
      return purposes.stream().filter(purpose::equals).count();
    }
  }

  /**
   * Reads it from the record; its errors are the archive's. Whatever was open at an earlier start
   * was closed before that start's {@link ProgramStarted}, so only what follows the newest of these
   * is read, and of older events those of trips.
   */
  public static OpenWork of(LedgerArchive archive) {
    long[] from = {0};
    archive.forEachOfKind(
        EventCodec.kind(ProgramStarted.class), stored -> from[0] = stored.number());
    Finder finder = new Finder();
    Consumer<StoredEvent> each = stored -> finder.accept(EventCodec.decode(stored));
    archive.forEach(from[0] + 1, archive.newest().number(), each);
    finder.trip = standingTrip(archive);
    return finder.found();
  }

  /** Finds it among these entries, which stand in rising order. */
  public static OpenWork among(Iterable<LedgerEntry> entries) {
    Finder finder = new Finder();
    entries.forEach(finder);
    return finder.found();
  }

  private static Optional<Tripped> standingTrip(LedgerArchive archive) {
    List<StoredEvent> trips = new ArrayList<>();
    archive.forEachOfKind(EventCodec.kind(Tripped.class), stored -> keepLast(trips, stored));
    List<StoredEvent> resets = new ArrayList<>();
    archive.forEachOfKind(EventCodec.kind(TripReset.class), stored -> keepLast(resets, stored));
    long resetAt = resets.isEmpty() ? 0 : resets.get(0).number();
    return trips.stream()
        .filter(trip -> trip.number() > resetAt)
        .findFirst()
        .map(trip -> (Tripped) EventCodec.decode(trip).event());
  }

  private static void keepLast(List<StoredEvent> one, StoredEvent newer) {
    one.clear();
    one.add(newer);
  }

  /**
   * The events that close what is open: first the acts, as unknown, in the order of the intents;
   * then the attempts, as tripped, in the order they were started. The trip is no event's to close.
   */
  public List<LedgerEvent> closings(String why) {
    List<LedgerEvent> closings = new ArrayList<>();
    intents.forEach((number, intent) -> closings.add(intent.unknown(number, why)));
    magnets.values().forEach(attempt -> closings.add(tripped(attempt, why)));
    return closings;
  }

  private static LedgerEvent tripped(Attempt attempt, String why) {
    return new VerdictGiven(
        attempt.started().magnet(),
        attempt.started().attempt(),
        "tripped",
        0,
        0,
        0,
        0,
        0,
        attempt.count("charge"),
        attempt.count("knock down"),
        attempt.count("demagnetise"),
        why);
  }

  private static final class Finder implements Consumer<LedgerEntry> {

    private final Map<Long, Intent> intents = new LinkedHashMap<>();
    private final Map<Long, Attempt> magnets = new LinkedHashMap<>();
    private Optional<Tripped> trip = Optional.empty();

    @Override
    public void accept(LedgerEntry entry) {
      LedgerEvent event = entry.event();
      if (event instanceof Intent intended) {
        intents.put(entry.number(), intended);
        magnets.computeIfPresent(
            intended.magnet(), (magnet, attempt) -> attempt.and(intended.purpose()));
      } else if (event instanceof ActEnded ended) {
        intents.remove(ended.intent());
      } else if (event instanceof MagnetStarted started) {
        // Taken out first, so that a magnet started again stands at its newer place.
        magnets.remove(started.magnet());
        magnets.put(started.magnet(), new Attempt(started, List.of()));
      } else if (event instanceof VerdictGiven verdict) {
        magnets.remove(verdict.magnet());
      } else if (event instanceof Tripped tripped) {
        trip = Optional.of(tripped);
      } else if (event instanceof TripReset) {
        trip = Optional.empty();
      }
    }

    OpenWork found() {
      return new OpenWork(intents, magnets, trip);
    }
  }
}
