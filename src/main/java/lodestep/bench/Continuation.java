package lodestep.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import lodestep.dial.Move;
import lodestep.dial.Progress;
import lodestep.dial.Verdict;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.measure.SettledReading;
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

  /**
   * What is on record of one magnet.
   *
   * @param last the newest reading of the newest attempt
   * @param result how far that attempt had come at its end, as far as a verdict tells: the newest
   *     reading and the pulses
   */
  public record Known(
      long magnet,
      long attempts,
      Optional<FluxDensity> asFound,
      Optional<SettledReading> last,
      Optional<Move.Finish> end,
      Optional<Progress> result) {

    private static Known named(long magnet) {
      return new Known(
          magnet, 0, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    }

    private Known begun(long attempt) {
      return new Known(
          magnet, attempt, asFound, Optional.empty(), Optional.empty(), Optional.empty());
    }

    private Known read(LedgerEvent.ReadingTaken event) {
      SettledReading reading =
          new SettledReading(
              FluxDensity.ofMicroTesla(event.fieldMicroTesla()),
              new FluxDensity(event.uncertaintyNanoTesla() * 1e-9),
              Double.POSITIVE_INFINITY,
              Math.toIntExact(event.samples()));
      Optional<FluxDensity> found = asFound.isPresent() ? asFound : Optional.of(reading.value());
      return new Known(magnet, attempts, found, Optional.of(reading), end, result);
    }

    private Known ended(LedgerEvent.VerdictGiven verdict) {
      Progress.Counts counts =
          new Progress.Counts(
              Math.toIntExact(
                  verdict.charges() + verdict.knockDowns() + verdict.demagnetisingPulses()),
              Math.toIntExact(verdict.charges()),
              Math.toIntExact(verdict.knockDowns()),
              0,
              Math.toIntExact(verdict.demagnetisingPulses()),
              0);
      Progress none = Progress.none();
      Progress progress =
          new Progress(
              none.asFound(),
              last,
              none.lastMove(),
              none.points(),
              none.earlier(),
              none.firstCharge(),
              none.beforeProof(),
              none.rested(),
              none.tried(),
              counts);
      return new Known(magnet, attempts, asFound, last, finish(verdict), Optional.of(progress));
    }

    private static Optional<Move.Finish> finish(LedgerEvent.VerdictGiven given) {
      return Arrays.stream(Verdict.values())
          .filter(verdict -> verdict.word().equals(given.verdict()))
          .findFirst()
          .map(verdict -> new Move.Finish(verdict, given.why()));
    }
  }

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
  public static OptionalLong virtualSeed(LedgerArchive archive, long batch) {
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
                  known.result()));
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
        known.put(key, Known.named(entry.number()));
      } else if (event instanceof LedgerEvent.MagnetStarted begun) {
        change(begun.magnet(), old -> old.begun(begun.attempt()));
      } else if (event instanceof LedgerEvent.ReadingTaken read) {
        change(read.magnet(), old -> old.read(read));
      } else if (event instanceof LedgerEvent.VerdictGiven verdict) {
        change(verdict.magnet(), old -> old.ended(verdict));
      }
    }

    private void change(long magnet, UnaryOperator<Known> to) {
      Key key = keys.get(magnet);
      if (key != null) {
        known.computeIfPresent(key, (same, old) -> to.apply(old));
      }
    }

    Optional<Continuation> found(OptionalLong seed) {
      return started.map(batch -> new Continuation(number, batch, seed, known));
    }
  }
}
