package lodestep.ledger;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import lodestep.port.ActEvent.ActEnded;
import lodestep.port.ActEvent.Intent;
import lodestep.port.GaugeEvent.PointEvent;
import lodestep.port.GaugeEvent.PointsJudged;
import lodestep.port.KeepingEvent.KeepingAsked;
import lodestep.port.KeepingEvent.MagnetNoted;
import lodestep.port.KeepingEvent.MagnetReread;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.ActByHand;
import lodestep.port.LedgerEvent.BankProven;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.ReadingTyped;
import lodestep.port.LedgerEvent.Tripped;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StockEvent;
import lodestep.port.StockEvent.MagnetsExchanged;
import lodestep.port.StoredEvent;

/**
 * All that is on record about one magnet, in the order it happened. Any thread, immutable.
 *
 * @param magnet its number
 * @param identity what it was named and asked to become
 * @param namedWall when, by the wall clock
 * @param happenings in the order of their numbers
 */
public record MagnetHistory(
    long magnet, MagnetNamed identity, Instant namedWall, List<Happening> happenings) {

  public MagnetHistory {
    happenings = List.copyOf(happenings);
  }

  /**
   * Something that happened to it.
   *
   * @param number of the event
   * @param wall by the wall clock; a label only
   * @param attempt in which it happened, from 1; 0 before the first
   * @param what the event, and for an act of a source how it ended
   */
  public record Happening(long number, Instant wall, long attempt, What what) {}

  /** The kinds of happening. */
  public sealed interface What {

    /** It was put in the nest and started. */
    record Started(MagnetStarted event) implements What {}

    /** The parts that end a charge were seen to work, with it in the nest. */
    record Proven(BankProven event) implements What {}

    /** A settled reading. */
    record Reading(ReadingTaken event) implements What {}

    /** An act of a field source, and how it ended; without an end it may have been carried out. */
    record Acted(Intent intent, Optional<ActEnded> end) implements What {}

    /** A person acted on it by hand. */
    record ByHand(ActByHand event) implements What {}

    /** A person typed another gauge's reading; it is none of ours. */
    record Typed(ReadingTyped event) implements What {}

    /** It was read at several points: the beginning, one point, or what they came to. */
    record AtPoints(PointEvent event) implements What {}

    /** The interlocks let go while it was in the nest. */
    record Trip(Tripped event) implements What {}

    /** It was scrapped, what was written of it was corrected, or what else its plan says of it. */
    record Corrected(StockEvent event) implements What {}

    /** An attempt's end. */
    record Verdict(VerdictGiven event) implements What {}

    /** What it is asked to keep. */
    record Asked(KeepingAsked event) implements What {}

    /** A person noted what has befallen it. */
    record Noted(MagnetNoted event) implements What {}

    /** It was read again and compared. */
    record Reread(MagnetReread event) implements What {}

    /** One arm for each. */
    default <R> R match(Arms<R> arms) {
      if (this instanceof Started started) {
        return arms.started(started.event());
      }
      if (this instanceof Proven proven) {
        return arms.proven(proven.event());
      }
      if (this instanceof Reading reading) {
        return arms.reading(reading.event());
      }
      if (this instanceof Acted acted) {
        return arms.acted(acted.intent(), acted.end());
      }
      if (this instanceof ByHand hand) {
        return arms.byHand(hand.event());
      }
      if (this instanceof Typed typed) {
        return arms.typed(typed.event());
      }
      if (this instanceof AtPoints points) {
        return arms.atPoints(points.event());
      }
      if (this instanceof Trip trip) {
        return arms.trip(trip.event());
      }
      if (this instanceof Asked asked) {
        return arms.asked(asked.event());
      }
      if (this instanceof Noted noted) {
        return arms.noted(noted.event());
      }
      if (this instanceof Reread reread) {
        return arms.reread(reread.event());
      }
      if (this instanceof Corrected corrected) {
        return arms.corrected(corrected.event());
      }
      return arms.verdict(((Verdict) this).event());
    }
  }

  /** What to make of each kind of happening. */
  public interface Arms<R> {

    /** It was started. */
    R started(MagnetStarted event);

    /** Fill contact, switch and bleed were proven. */
    R proven(BankProven event);

    /** It was read. */
    R reading(ReadingTaken event);

    /** A field source acted on it. */
    R acted(Intent intent, Optional<ActEnded> end);

    /** A person acted on it by hand. */
    R byHand(ActByHand event);

    /** A person typed another gauge's reading. */
    R typed(ReadingTyped event);

    /** It was read at several points. */
    R atPoints(PointEvent event);

    /** The rig tripped. */
    R trip(Tripped event);

    /** It was scrapped, what was written of it was corrected, or what else its plan says of it. */
    R corrected(StockEvent event);

    /** It got a verdict. */
    R verdict(VerdictGiven event);

    /** It was asked to keep its level. */
    R asked(KeepingAsked event);

    /** A person noted what has befallen it. */
    R noted(MagnetNoted event);

    /** It was read again. */
    R reread(MagnetReread event);
  }

  /** The history of the magnet with this number, if there is one; errors are the archive's. */
  public static Optional<MagnetHistory> of(LedgerArchive archive, long magnet) {
    List<LedgerEntry> entries = new ArrayList<>();
    Consumer<StoredEvent> each = stored -> entries.add(EventCodec.decode(stored));
    archive.forEachOfMagnet(magnet, each);
    archive.forEachOfKind(
        EventCodec.kind(MagnetsExchanged.class),
        stored -> {
          LedgerEntry entry = EventCodec.decode(stored);
          if (entry.event() instanceof MagnetsExchanged two && two.other() == magnet) {
            entries.add(entry);
          }
        });
    entries.sort(Comparator.comparingLong(LedgerEntry::number));
    Corrections corrections = Corrections.of(archive);
    return among(entries, magnet)
        .map(history -> history.read(corrections.now(magnet, history.identity())));
  }

  private MagnetHistory read(MagnetNamed as) {
    return new MagnetHistory(magnet, as, namedWall, happenings);
  }

  /** The history of the magnet with this number among entries in rising order, if it is there. */
  public static Optional<MagnetHistory> among(Iterable<LedgerEntry> entries, long magnet) {
    Collector collector = new Collector(magnet);
    entries.forEach(collector);
    return collector.history();
  }

  /** How often it was started; attempts count from 1. */
  public long attempts() {
    return happenings.stream().mapToLong(Happening::attempt).max().orElse(0);
  }

  /** All acts of field sources, in order. */
  public List<What.Acted> acts() {
    return all(What.Acted.class);
  }

  /** All settled readings, in order. */
  public List<ReadingTaken> readings() {
    return all(What.Reading.class).stream().map(What.Reading::event).toList();
  }

  /** The newest verdict, unless the magnet was started again after it. */
  public Optional<VerdictGiven> standingVerdict() {
    Optional<VerdictGiven> standing = Optional.empty();
    for (Happening happening : happenings) {
      if (happening.what() instanceof What.Started) {
        standing = Optional.empty();
      } else if (happening.what() instanceof What.Verdict verdict) {
        standing = Optional.of(verdict.event());
      }
    }
    return standing;
  }

  /** What its newest reading at several points since its newest verdict came to. */
  public Optional<PointsJudged> points() {
    Optional<PointsJudged> newest = Optional.empty();
    for (Happening happening : happenings) {
      if (happening.what() instanceof What.Verdict) {
        newest = Optional.empty();
      } else if (happening.what() instanceof What.AtPoints at
          && at.event() instanceof PointsJudged judged) {
        newest = Optional.of(judged);
      }
    }
    return newest;
  }

  /** What befell it since its newest verdict or conclusive reading: it is to be read again. */
  public Optional<MagnetNoted> toBeReadAgain() {
    Optional<MagnetNoted> noted = Optional.empty();
    for (Happening happening : happenings) {
      if (happening.what() instanceof What.Noted note) {
        noted = Optional.of(note.event());
      } else if (happening.what() instanceof What.Verdict
          || (happening.what() instanceof What.Reread reread
              && AcceptedMagnet.settles(reread.event()))) {
        noted = Optional.empty();
      }
    }
    return noted;
  }

  private <W extends What> List<W> all(Class<W> kind) {
    return happenings.stream()
        .map(Happening::what)
        .filter(kind::isInstance)
        .map(kind::cast)
        .toList();
  }

  private static final class Collector implements Consumer<LedgerEntry> {

    private final long magnet;
    private final Map<Long, Happening> happenings = new LinkedHashMap<>();
    private Optional<LedgerEntry> named = Optional.empty();
    private long attempt;

    Collector(long magnet) {
      this.magnet = magnet;
    }

    @Override
    public void accept(LedgerEntry entry) {
      if (entry.event() instanceof MagnetNamed && entry.number() == magnet) {
        named = Optional.of(entry);
      } else if (EventCodec.index(entry).magnet() == magnet
          || (entry.event() instanceof MagnetsExchanged two && two.other() == magnet)) {
        take(entry);
      }
    }

    private void take(LedgerEntry entry) {
      if (entry.event() instanceof MagnetStarted started) {
        attempt = started.attempt();
        add(entry, new What.Started(started));
      } else if (entry.event() instanceof BankProven proven) {
        add(entry, new What.Proven(proven));
      } else if (entry.event() instanceof ReadingTaken reading) {
        add(entry, new What.Reading(reading));
      } else if (entry.event() instanceof Intent intent) {
        add(entry, new What.Acted(intent, Optional.empty()));
      } else if (entry.event() instanceof ActEnded end) {
        happenings.computeIfPresent(end.intent(), (number, open) -> ended(open, end));
      } else if (entry.event() instanceof ActByHand act) {
        add(entry, new What.ByHand(act));
      } else if (entry.event() instanceof ReadingTyped typed) {
        add(entry, new What.Typed(typed));
      } else if (entry.event() instanceof PointEvent points) {
        add(entry, new What.AtPoints(points));
      } else if (entry.event() instanceof Tripped trip) {
        add(entry, new What.Trip(trip));
      } else if (entry.event() instanceof StockEvent corrected) {
        add(entry, new What.Corrected(corrected));
      } else if (entry.event() instanceof VerdictGiven verdict) {
        add(entry, new What.Verdict(verdict));
      } else {
        takeKeeping(entry);
      }
    }

    private void takeKeeping(LedgerEntry entry) {
      if (entry.event() instanceof KeepingAsked asked) {
        add(entry, new What.Asked(asked));
      } else if (entry.event() instanceof MagnetNoted noted) {
        add(entry, new What.Noted(noted));
      } else if (entry.event() instanceof MagnetReread reread) {
        add(entry, new What.Reread(reread));
      }
    }

    private void add(LedgerEntry entry, What what) {
      happenings.put(entry.number(), new Happening(entry.number(), entry.wall(), attempt, what));
    }

    private static Happening ended(Happening open, ActEnded end) {
      return open.what() instanceof What.Acted acted
          ? new Happening(
              open.number(),
              open.wall(),
              open.attempt(),
              new What.Acted(acted.intent(), Optional.of(end)))
          : open;
    }

    Optional<MagnetHistory> history() {
      return named
          .filter(entry -> entry.event() instanceof MagnetNamed)
          .map(
              entry ->
                  new MagnetHistory(
                      magnet,
                      (MagnetNamed) entry.event(),
                      entry.wall(),
                      List.copyOf(happenings.values())));
    }
  }
}
