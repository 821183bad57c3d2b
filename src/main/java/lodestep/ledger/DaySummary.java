package lodestep.ledger;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Consumer;
import lodestep.port.ActEvent.ActEnded;
import lodestep.port.ActEvent.Intent;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.ActByHand;
import lodestep.port.LedgerEvent.BatchContinued;
import lodestep.port.LedgerEvent.BatchEnded;
import lodestep.port.LedgerEvent.BatchStarted;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ProgramStarted;
import lodestep.port.LedgerEvent.Tripped;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.LedgerEvent.ZeroTaken;

/**
 * What was done in a span of time, a day for example, by the wall times on record. Any thread,
 * immutable.
 *
 * @param events how many entries the span has
 * @param programs how often the program was started
 * @param begun names of batches that were begun, in order; {@code goneOn} how often one went on
 * @param ended how many batches ended
 * @param magnets how many different magnets were started, and {@code attempts} how often in all
 * @param verdicts how many of each word, by the word
 * @param trips how many of each cause, by its code and words
 * @param acts acts of field sources that began, by purpose; {@code outcomes} ends, by outcome
 * @param byHand acts by hand
 * @param zeros zeros taken
 * @param checks checks of the gauge, and {@code outOfControl} how many of them were not in control
 * @param open magnets started in the span and without a verdict in it
 */
public record DaySummary(
    long events,
    long programs,
    List<String> begun,
    long goneOn,
    long ended,
    long magnets,
    long attempts,
    SortedMap<String, Long> verdicts,
    SortedMap<String, Long> trips,
    SortedMap<String, Long> acts,
    SortedMap<String, Long> outcomes,
    long byHand,
    long zeros,
    long checks,
    long outOfControl,
    long open) {

  public DaySummary {
    begun = List.copyOf(begun);
    verdicts = kept(verdicts);
    trips = kept(trips);
    acts = kept(acts);
    outcomes = kept(outcomes);
  }

  private static SortedMap<String, Long> kept(SortedMap<String, Long> counts) {
    return Collections.unmodifiableSortedMap(new TreeMap<>(counts));
  }

  /**
   * Reads it from the record; its errors are the archive's.
   *
   * @param fromEpochMs first millisecond of the span, and {@code toEpochMs} the first after it
   * @throws IllegalArgumentException if an event cannot be read
   */
  public static DaySummary of(LedgerArchive archive, long fromEpochMs, long toEpochMs) {
    Counter counter = new Counter();
    archive.forEachOfTime(
        fromEpochMs, toEpochMs, stored -> counter.accept(EventCodec.decode(stored)));
    return counter.summary();
  }

  private static final class Counter implements Consumer<LedgerEntry> {

    private final List<String> begun = new ArrayList<>();
    private final Set<Long> magnets = new LinkedHashSet<>();
    private final Set<Long> open = new LinkedHashSet<>();
    private final SortedMap<String, Long> verdicts = new TreeMap<>();
    private final SortedMap<String, Long> trips = new TreeMap<>();
    private final SortedMap<String, Long> acts = new TreeMap<>();
    private final SortedMap<String, Long> outcomes = new TreeMap<>();
    private final SortedMap<String, Long> others = new TreeMap<>();
    private long events;
    private long outOfControl;

    @Override
    public void accept(LedgerEntry entry) {
      LedgerEvent event = entry.event();
      events++;
      one(others, event.getClass().getSimpleName());
      if (event instanceof BatchStarted batch) {
        begun.add(batch.name());
      } else if (event instanceof MagnetStarted started) {
        magnets.add(started.magnet());
        open.add(started.magnet());
      } else if (event instanceof VerdictGiven verdict) {
        one(verdicts, verdict.verdict());
        open.remove(verdict.magnet());
      } else if (event instanceof Tripped trip) {
        one(trips, "trip " + trip.code() + ": " + trip.cause());
      } else if (event instanceof Intent intent) {
        one(acts, intent.purpose());
      } else if (event instanceof ActEnded end) {
        one(outcomes, end.outcome());
      } else if (event instanceof GaugeJudged judged && !judged.inControl()) {
        outOfControl++;
      }
    }

    private static void one(Map<String, Long> counts, String what) {
      counts.merge(what, 1L, Long::sum);
    }

    private long count(Class<? extends LedgerEvent> kind) {
      return others.getOrDefault(kind.getSimpleName(), 0L);
    }

    DaySummary summary() {
      return new DaySummary(
          events,
          count(ProgramStarted.class),
          begun,
          count(BatchContinued.class),
          count(BatchEnded.class),
          magnets.size(),
          count(MagnetStarted.class),
          verdicts,
          trips,
          acts,
          outcomes,
          count(ActByHand.class),
          count(ZeroTaken.class),
          count(GaugeJudged.class),
          outOfControl,
          open.size());
    }
  }
}
