package lodestep.bench;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import lodestep.dial.Move;
import lodestep.dial.Verdict;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.StoredEvent;
import lodestep.quantity.FluxDensity;

/**
 * The newest batch that a ledger shows begun and not ended. Any thread, immutable.
 *
 * @param virtualSeed of the virtual rig on which it was begun, whose stock it is; empty if on a
 *     real one
 * @param number ledger number of the batch
 * @param started its first event, with the plan's text
 * @param magnets what is on record of each of its magnets, by line and ordinal
 */
public record Continuation(
    long number,
    LedgerEvent.BatchStarted started,
    OptionalLong virtualSeed,
    Map<Key, Known> magnets) {

  /** Which magnet of the plan. */
  public record Key(long line, long ordinal) {}

  /** What is on record of one magnet. */
  public record Known(
      long magnet, long attempts, Optional<FluxDensity> asFound, Optional<Move.Finish> end) {}

  public Continuation {
    magnets = Map.copyOf(magnets);
  }

  /**
   * Finds it; empty if the newest batch on record has ended. Reads only that batch's events; errors
   * are the archive's.
   */
  public static Optional<Continuation> of(LedgerArchive archive) {
    long[] from = {0};
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.BatchStarted.class), stored -> from[0] = stored.number());
    if (from[0] == 0) {
      return Optional.empty();
    }
    Finder finder = new Finder();
    Consumer<StoredEvent> each = stored -> finder.accept(EventCodec.decode(stored));
    archive.forEach(from[0], archive.newest().number(), each);
    return finder.found(virtualSeed(archive, from[0]));
  }

  /** The seed of the run in which the batch with this number was begun. */
  private static OptionalLong virtualSeed(LedgerArchive archive, long batch) {
    OptionalLong[] seed = {OptionalLong.empty()};
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.ProgramStarted.class),
        stored -> {
          if (stored.number() < batch
              && EventCodec.decode(stored).event() instanceof LedgerEvent.ProgramStarted run) {
            seed[0] =
                run.virtualSeed().isEmpty()
                    ? OptionalLong.empty()
                    : OptionalLong.of(Long.parseLong(run.virtualSeed()));
          }
        });
    return seed[0];
  }

  /** The entries of this plan, each with what is on record of it. */
  public List<Entry> entries(List<Entry> planned) {
    List<Entry> entries = new ArrayList<>();
    for (Entry entry : planned) {
      Known known = magnets.get(new Key(entry.prepared().row().line(), entry.ordinal()));
      entries.add(
          known == null
              ? entry
              : new Entry(
                  entry.prepared(),
                  entry.ordinal(),
                  known.magnet(),
                  known.attempts(),
                  known.asFound(),
                  known.end(),
                  Optional.empty()));
    }
    return entries;
  }

  private static final class Finder {
    private final Map<Long, Key> keys = new HashMap<>();
    private final Map<Key, Known> known = new HashMap<>();
    private long number;
    private Optional<LedgerEvent.BatchStarted> started = Optional.empty();

    void accept(LedgerEntry entry) {
      LedgerEvent event = entry.event();
      if (event instanceof LedgerEvent.BatchStarted batch) {
        number = entry.number();
        started = Optional.of(batch);
        keys.clear();
        known.clear();
      } else if (event instanceof LedgerEvent.BatchEnded ended && ended.batch() == number) {
        started = Optional.empty();
      } else if (event instanceof LedgerEvent.MagnetNamed named && named.batch() == number) {
        Key key = new Key(named.row(), named.ordinal());
        keys.put(entry.number(), key);
        known.put(key, new Known(entry.number(), 0, Optional.empty(), Optional.empty()));
      } else if (event instanceof LedgerEvent.MagnetStarted begun) {
        change(begun.magnet(), old -> with(old, begun.attempt(), old.asFound(), Optional.empty()));
      } else if (event instanceof LedgerEvent.ReadingTaken read) {
        change(read.magnet(), old -> with(old, old.attempts(), firstReading(old, read), old.end()));
      } else if (event instanceof LedgerEvent.VerdictGiven verdict) {
        change(verdict.magnet(), old -> with(old, old.attempts(), old.asFound(), end(verdict)));
      }
    }

    private void change(long magnet, UnaryOperator<Known> to) {
      Key key = keys.get(magnet);
      if (key != null) {
        known.computeIfPresent(key, (same, old) -> to.apply(old));
      }
    }

    private static Known with(
        Known old, long attempts, Optional<FluxDensity> asFound, Optional<Move.Finish> end) {
      return new Known(old.magnet(), attempts, asFound, end);
    }

    private static Optional<FluxDensity> firstReading(Known old, LedgerEvent.ReadingTaken reading) {
      return old.asFound().isPresent()
          ? old.asFound()
          : Optional.of(FluxDensity.ofMicroTesla(reading.fieldMicroTesla()));
    }

    private static Optional<Move.Finish> end(LedgerEvent.VerdictGiven given) {
      for (Verdict verdict : Verdict.values()) {
        if (verdict.word().equals(given.verdict())) {
          return Optional.of(new Move.Finish(verdict, given.why()));
        }
      }
      return Optional.empty();
    }

    Optional<Continuation> found(OptionalLong seed) {
      return started.map(batch -> new Continuation(number, batch, seed, known));
    }
  }
}
