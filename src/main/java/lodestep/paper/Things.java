package lodestep.paper;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import lodestep.bench.NestSeatings;
import lodestep.ledger.AsOf;
import lodestep.ledger.ClockMarks;
import lodestep.ledger.Corrections;
import lodestep.ledger.EventCodec;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.ledger.MagnetNames;
import lodestep.ledger.Pickup;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StoredEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * Things with names in one record: pickups, sets, magnets. One thread; errors are the archive's.
 */
public final class Things {

  private static final String ACCEPTED = "accepted";

  private final LedgerArchive archive;
  private final Corrections corrections;

  /** Reads from this archive, which stays the caller's to close. */
  public Things(LedgerArchive archive) {
    this.archive = archive;
    this.corrections = Corrections.of(archive);
  }

  /** Something of this name. */
  public sealed interface Thing {

    /** What it is called. */
    String name();

    /** "pickup", "set" or "magnet". */
    String kind();

    /** A finished pickup. */
    record OfPickup(Pickup pickup) implements Thing {
      @Override
      public String name() {
        return pickup.built().name();
      }

      @Override
      public String kind() {
        return "pickup";
      }
    }

    /** A set's magnets, in the order of their positions. */
    record OfSet(String name, List<Long> magnets) implements Thing {
      public OfSet {
        magnets = List.copyOf(magnets);
      }

      @Override
      public String kind() {
        return "set";
      }
    }

    /** One magnet. */
    record OfMagnet(String name, long magnet) implements Thing {
      @Override
      public String kind() {
        return "magnet";
      }
    }
  }

  /** The newest thing that is called so: a pickup before a set, a set before a magnet. */
  public Optional<Thing> find(String written) {
    String wanted = written.strip();
    Optional<Pickup> pickup = pickup(wanted);
    if (pickup.isPresent()) {
      return pickup.map(Thing.OfPickup::new);
    }
    List<Long> set = set(wanted);
    if (!set.isEmpty()) {
      return Optional.of(new Thing.OfSet(wanted, set));
    }
    return magnet(wanted);
  }

  /** The newest magnet of this name, or with this number. */
  public Optional<Thing> magnet(String written) {
    if (MagnetNames.of(archive).find(written.strip()) instanceof MagnetNames.Search.Found found) {
      long newest = found.magnets().get(found.magnets().size() - 1);
      return history(newest).map(one -> new Thing.OfMagnet(one.identity().name(), newest));
    }
    return Optional.empty();
  }

  /** All that is on record of a magnet. */
  public Optional<MagnetHistory> history(long magnet) {
    return MagnetHistory.of(archive, magnet);
  }

  /** Histories of all magnets of this name, or of the one with this number; none if none has it. */
  public List<MagnetHistory> histories(String written) {
    return MagnetNames.of(archive).find(written) instanceof MagnetNames.Search.Found found
        ? found.magnets().stream().flatMap(number -> history(number).stream()).toList()
        : List.of();
  }

  /** All entries of these kinds, in the order they were written. */
  public List<LedgerEntry> entries(Set<String> kinds) {
    List<LedgerEntry> entries = new ArrayList<>();
    for (String kind : kinds) {
      archive.forEachOfKind(kind, stored -> entries.add(EventCodec.decode(stored)));
    }
    entries.sort(Comparator.comparingLong(LedgerEntry::number));
    return entries;
  }

  /** What people noted of what they made. */
  public BuildNotes notes() {
    return BuildNotes.of(archive);
  }

  /** The lots on record. */
  public List<String> lots() {
    return LotReport.names(archive);
  }

  /** What is on record of a lot. */
  public LotReport lot(String name) {
    return LotReport.of(archive, name);
  }

  /** What is on record of the gauge itself, hand gauges among it. */
  public GaugeRecord gaugeRecord() {
    return GaugeRecord.of(archive);
  }

  /** The customers' orders on record. */
  public List<Ordered> orders() {
    return Ordered.all(archive);
  }

  /** The order of this name. */
  public Optional<Ordered> order(String written) {
    return orders().stream()
        .filter(order -> order.name().equalsIgnoreCase(written.strip()))
        .findFirst();
  }

  /** All pickups, in the order they were put on record. */
  public List<Pickup> pickups() {
    return Pickup.all(archive);
  }

  /** The newest pickup of this name, or with this number. */
  public Optional<Pickup> pickup(String written) {
    List<Pickup> all = Pickup.all(archive);
    if (Pickup.names(all).find(written) instanceof MagnetNames.Search.Found found) {
      long newest = found.magnets().get(found.magnets().size() - 1);
      return all.stream().filter(one -> one.number() == newest).findFirst();
    }
    return Optional.empty();
  }

  /** Names of things that are spelled most like this, pickups first; empty if there is none. */
  public List<String> nearest(String written) {
    List<String> nearest = new ArrayList<>();
    for (MagnetNames names : List.of(Pickup.names(Pickup.all(archive)), MagnetNames.of(archive))) {
      if (names.find(written) instanceof MagnetNames.Search.Unknown unknown) {
        nearest.addAll(unknown.nearest());
      }
    }
    return nearest;
  }

  /** The names of all sets, in the order in which they came up. */
  public List<String> sets() {
    Set<String> names = new LinkedHashSet<>();
    archive.forEachOfKind(
        EventCodec.kind(MagnetNamed.class),
        stored -> {
          MagnetNamed named = (MagnetNamed) EventCodec.decode(stored).event();
          String set = corrections.now(stored.number(), named).set();
          if (!set.isEmpty()) {
            // A set that was made again is the newest.
            names.remove(set);
            names.add(set);
          }
        });
    return List.copyOf(names);
  }

  /** Magnets of the newest batch that has this set, as they are read now. */
  private List<Long> set(String wanted) {
    List<Long> magnets = new ArrayList<>();
    long[] batch = {-1};
    archive.forEachOfKind(
        EventCodec.kind(MagnetNamed.class),
        stored -> {
          MagnetNamed named = (MagnetNamed) EventCodec.decode(stored).event();
          MagnetNamed now = corrections.now(stored.number(), named);
          if (!now.set().isEmpty() && now.set().equalsIgnoreCase(wanted)) {
            if (now.batch() != batch[0]) {
              magnets.clear();
              batch[0] = now.batch();
            }
            magnets.add(stored.number());
          }
        });
    return magnets;
  }

  /**
   * The levels of accepted magnets.
   *
   * @throws IllegalArgumentException with one sentence, if one of them was not accepted
   */
  public List<Certificate.Level> levels(List<Long> magnets) {
    List<Certificate.Level> levels = new ArrayList<>();
    for (long magnet : magnets) {
      if (magnet > 0) {
        levels.add(level(magnet));
      }
    }
    return levels;
  }

  private Certificate.Level level(long magnet) {
    MagnetHistory history =
        MagnetHistory.of(archive, magnet)
            .orElseThrow(
                () -> new IllegalArgumentException("entry " + magnet + " names no magnet"));
    Optional<Happening> last =
        history.happenings().stream()
            .filter(happening -> happening.what() instanceof What.Verdict)
            .reduce((earlier, later) -> later);
    if (history.standingVerdict().isEmpty() || last.isEmpty()) {
      throw new IllegalArgumentException(
          history.identity().name() + " has no verdict that stands; dial it first");
    }
    VerdictGiven verdict = ((What.Verdict) last.get().what()).event();
    if (!verdict.verdict().equals(ACCEPTED)) {
      throw new IllegalArgumentException(
          history.identity().name() + " was not accepted (" + verdict.verdict() + ")");
    }
    return Certificate.Level.of(
        history, verdict, last.get().number(), last.get().wall(), NestSeatings.of(archive));
  }

  /** How the gauge was known when these were read. */
  public Certificate.Gauge gauge(List<Certificate.Level> levels, Optional<Pickup> pickup) {
    long calibration =
        levels.stream()
            .flatMap(level -> level.history().readings().stream())
            .mapToLong(ReadingTaken::calibration)
            .max()
            .orElseGet(
                () ->
                    pickup.stream()
                        .flatMap(one -> one.rounds().stream())
                        .flatMap(round -> round.poles().stream())
                        .mapToLong(top -> top.calibration())
                        .max()
                        .orElse(0));
    List<String> checks =
        levels.stream()
            .map(level -> level.history().identity().nest())
            .distinct()
            .map(this::check)
            .toList();
    return new Certificate.Gauge(calibration(calibration), checks);
  }

  private String check(String nest) {
    String[] said = {"no reference magnet was read in the " + nest};
    archive.forEachOfKind(
        EventCodec.kind(GaugeJudged.class),
        stored -> {
          GaugeJudged judged = (GaugeJudged) EventCodec.decode(stored).event();
          if (judged.nest().equals(nest)) {
            said[0] =
                judged.reference()
                    + " in the "
                    + nest
                    + " on "
                    + Told.day(EventCodec.decode(stored).wall())
                    + (judged.inControl() ? ": in control" : ": OUT OF CONTROL");
          }
        });
    return said[0];
  }

  /** How far the wall times of these entries can be believed, by their numbers. */
  public SortedMap<Long, ClockMarks.Mark> clock(Collection<Long> numbers) {
    ClockMarks marks = ClockMarks.of(archive);
    SortedMap<Long, ClockMarks.Mark> found = new TreeMap<>();
    for (long number : numbers) {
      archive.forEach(
          number, number, stored -> found.put(number, marks.of(EventCodec.decode(stored))));
    }
    return found;
  }

  /** The same of all that happened to these magnets. */
  public SortedMap<Long, ClockMarks.Mark> clockOf(Collection<MagnetHistory> histories) {
    return clock(
        histories.stream()
            .flatMap(history -> history.happenings().stream())
            .map(Happening::number)
            .toList());
  }

  /** When this entry was written, by the wall clock. */
  public Instant wall(long number) {
    Instant[] found = {Instant.EPOCH};
    archive.forEach(number, number, stored -> found[0] = EventCodec.decode(stored).wall());
    return found[0];
  }

  /** The entry of this number; empty if there is none. */
  public Optional<StoredEvent> entry(long number) {
    List<StoredEvent> found = new ArrayList<>();
    archive.forEach(number, number, found::add);
    return found.stream().findFirst();
  }

  /** The same things as they stood after this entry. */
  public Things asOf(long number) {
    return new Things(new AsOf(archive, number));
  }

  /** The calibration of this number; nominal where none is on record. */
  public CalibrationSet calibration(long number) {
    CalibrationSet[] found = {new CalibrationSet(0, 0, 2_000, 1_000, "nominal, not calibrated")};
    archive.forEach(
        number,
        number,
        stored -> {
          LedgerEvent event = EventCodec.decode(stored).event();
          if (event instanceof CalibrationSet set) {
            found[0] = set;
          }
        });
    return found[0];
  }

  /** The pickup's magnets that are on record and were accepted, in the order of the strings. */
  public List<ReturnCase.Magnet> magnets(Pickup pickup) {
    return magnets(levels(pickup.built().magnets()));
  }

  /** The same from their levels. */
  public static List<ReturnCase.Magnet> magnets(List<Certificate.Level> levels) {
    return levels.stream()
        .map(
            level ->
                new ReturnCase.Magnet(
                    level.history().identity(),
                    FluxDensity.ofMicroTesla(level.verdict().fieldMicroTesla()),
                    new FluxDensity(level.standardUncertainty()),
                    Length.ofMicroMetres(level.standOffMicroMetres()),
                    level.wall()))
        .toList();
  }
}
