package lodestep.paper;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lodestep.dial.RecordedShape;
import lodestep.dial.Task;
import lodestep.ledger.Corrections;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.Pickup;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StockEvent.LotReceived;
import lodestep.port.StockEvent.MagnetScrapped;
import lodestep.quantity.Length;

/**
 * What is on record of a lot: how many came, what became of them, what they read fully charged, and
 * which alloys read so. Any thread, immutable.
 *
 * @param lot its name
 * @param magnets of it, by their numbers
 * @param received entries that say it came in, oldest first
 * @param counts what became of its magnets
 * @param charged what its magnets read fully charged, a group for each kind and nest
 */
public record LotReport(
    String lot,
    List<Long> magnets,
    List<LotReceived> received,
    Counts counts,
    List<Charged> charged) {

  private static final String CHARGED = "charged";
  private static final String ACCEPTED = "accepted";
  private static final int ALIKE_MAX = 3;

  public LotReport {
    magnets = List.copyOf(magnets);
    received = List.copyOf(received);
    charged = List.copyOf(charged);
  }

  /**
   * What became of its magnets; each is in one place only.
   *
   * @param came in, as was said; 0 if nobody said it
   * @param untouched of those, not yet worked on
   * @param uncharged accepted as demagnetised
   * @param charged accepted as fully charged
   * @param dialed accepted at a level
   * @param refused worked on and not accepted
   * @param assembled in a pickup
   * @param scrapped never to be used
   */
  public record Counts(
      long came,
      long untouched,
      long uncharged,
      long charged,
      long dialed,
      long refused,
      long assembled,
      long scrapped) {

    /** All of it that was ever worked on, or put somewhere. */
    long touched() {
      return uncharged + charged + dialed + refused + assembled + scrapped;
    }
  }

  /** Where a magnet is. */
  private enum Place {
    UNCHARGED,
    CHARGED,
    DIALED,
    REFUSED,
    ASSEMBLED,
    SCRAPPED,
    UNTOUCHED
  }

  /**
   * Magnets of one kind in one nest, fully charged.
   *
   * @param like one of them
   * @param standOffMicroMetres at which they were read
   * @param readings in tesla, without sign, one of each magnet
   */
  public record Charged(
      MagnetNamed like, String nest, long standOffMicroMetres, List<Double> readings) {
    public Charged {
      readings = List.copyOf(readings);
    }

    /** Their mean, in tesla. */
    public double mean() {
      return readings.stream().mapToDouble(each -> each).average().orElse(0);
    }

    /** Their standard deviation, in tesla; nought of one. */
    public double deviation() {
      double mean = mean();
      double squares = readings.stream().mapToDouble(each -> (each - mean) * (each - mean)).sum();
      return readings.size() < 2 ? 0 : Math.sqrt(squares / (readings.size() - 1));
    }

    /** The alloys whose magnets of these sizes read most like these, the likest first. */
    public List<Alike> alike(AlloyBook book) {
      Optional<Shape> shape = RecordedShape.find(like);
      List<Alike> alike = new ArrayList<>();
      if (shape.isPresent()) {
        for (Alloy alloy : book.alloys()) {
          alike(alloy, shape.get()).ifPresent(alike::add);
        }
      }
      alike.sort(Comparator.comparingDouble(each -> Math.abs(each.spreads())));
      return alike.subList(0, Math.min(ALIKE_MAX, alike.size()));
    }

    /** How the claimed alloy would read. */
    public Optional<Alike> claimed(AlloyBook book, String alloy) {
      Optional<Shape> shape = RecordedShape.find(like);
      return shape.isPresent()
          ? book.find(alloy).flatMap(known -> alike(known, shape.get()))
          : Optional.empty();
    }

    private Optional<Alike> alike(Alloy alloy, Shape shape) {
      try {
        double reads =
            FaceModel.of(alloy, shape)
                .chargedField(Length.ofMicroMetres(standOffMicroMetres))
                .tesla();
        double off = mean() / reads - 1;
        double spread =
            Math.hypot(
                alloy.spread().remanenceLot(),
                alloy.spread().remanenceMagnet() / Math.sqrt(readings.size()));
        return Optional.of(new Alike(alloy.name(), reads, off, off / spread));
      } catch (IllegalArgumentException lacksAFigure) {
        return Optional.empty();
      }
    }
  }

  /**
   * How an alloy's magnets read.
   *
   * @param reads a nominal one, fully charged, in tesla
   * @param off by which part these read more
   * @param spreads the same in standard deviations of its lots
   */
  public record Alike(String alloy, double reads, double off, double spreads) {}

  /** All that is on record of this lot; errors are the archive's. */
  public static LotReport of(LedgerArchive archive, String lot) {
    return new Reader(archive, lot.strip()).report();
  }

  /** Whether anything is on record of it. */
  public boolean isKnown() {
    return !received.isEmpty() || counts.touched() > 0;
  }

  /** The lots on record, in the order they came up. */
  public static List<String> names(LedgerArchive archive) {
    Set<String> names = new LinkedHashSet<>();
    Corrections corrections = Corrections.of(archive);
    archive.forEachOfKind(
        EventCodec.kind(LotReceived.class),
        stored -> names.add(((LotReceived) EventCodec.decode(stored).event()).lot()));
    archive.forEachOfKind(
        EventCodec.kind(MagnetNamed.class),
        stored -> {
          MagnetNamed named = (MagnetNamed) EventCodec.decode(stored).event();
          String of = corrections.now(stored.number(), named).lot();
          if (!of.isEmpty()) {
            names.add(of);
          }
        });
    return List.copyOf(names);
  }

  private static final class Reader {

    private final LedgerArchive archive;
    private final String lot;
    private final Map<Long, MagnetNamed> magnets = new LinkedHashMap<>();

    Reader(LedgerArchive archive, String lot) {
      this.archive = archive;
      this.lot = lot;
    }

    LotReport report() {
      Corrections corrections = Corrections.of(archive);
      for (LedgerEntry entry : LedgerEntry.all(archive, MagnetNamed.class)) {
        MagnetNamed now = corrections.now(entry.number(), (MagnetNamed) entry.event());
        if (now.lot().equalsIgnoreCase(lot)) {
          magnets.put(entry.number(), now);
        }
      }
      List<LotReceived> received =
          LedgerEntry.all(archive, LotReceived.class).stream()
              .map(entry -> (LotReceived) entry.event())
              .filter(each -> each.lot().equalsIgnoreCase(lot))
              .toList();
      return new LotReport(
          lot, List.copyOf(magnets.keySet()), received, counts(received), charged());
    }

    private Counts counts(List<LotReceived> received) {
      Set<Long> scrapped = new HashSet<>();
      LedgerEntry.all(archive, MagnetScrapped.class)
          .forEach(entry -> scrapped.add(((MagnetScrapped) entry.event()).magnet()));
      Set<Long> assembled = new HashSet<>();
      Pickup.all(archive).forEach(pickup -> assembled.addAll(pickup.built().magnets()));
      Map<Long, String> verdicts = new LinkedHashMap<>();
      for (LedgerEntry entry : LedgerEntry.all(archive, VerdictGiven.class)) {
        VerdictGiven verdict = (VerdictGiven) entry.event();
        verdicts.put(verdict.magnet(), verdict.verdict());
      }
      Map<Place, Long> places = new EnumMap<>(Place.class);
      magnets.forEach(
          (magnet, named) -> {
            Place place =
                scrapped.contains(magnet)
                    ? Place.SCRAPPED
                    : assembled.contains(magnet)
                        ? Place.ASSEMBLED
                        : place(named, Optional.ofNullable(verdicts.get(magnet)));
            places.merge(place, 1L, Long::sum);
          });
      return counts(received.stream().mapToLong(LotReceived::quantity).sum(), places);
    }

    private static Place place(MagnetNamed named, Optional<String> verdict) {
      if (verdict.isEmpty()) {
        return Place.UNTOUCHED;
      }
      if (!verdict.get().equals(ACCEPTED)) {
        return Place.REFUSED;
      }
      return switch (named.task()) {
        case Task.DEMAGNETISE_WORD -> Place.UNCHARGED;
        case Task.FULL_CHARGE_WORD -> Place.CHARGED;
        default -> Place.DIALED;
      };
    }

    private static Counts counts(long came, Map<Place, Long> places) {
      Function<Place, Long> of = place -> places.getOrDefault(place, 0L);
      Counts counts =
          new Counts(
              came,
              0,
              of.apply(Place.UNCHARGED),
              of.apply(Place.CHARGED),
              of.apply(Place.DIALED),
              of.apply(Place.REFUSED),
              of.apply(Place.ASSEMBLED),
              of.apply(Place.SCRAPPED));
      return new Counts(
          came,
          Math.max(0, came - counts.touched()),
          counts.uncharged,
          counts.charged,
          counts.dialed,
          counts.refused,
          counts.assembled,
          counts.scrapped);
    }

    /** The newest full reading of each magnet. */
    private List<Charged> charged() {
      Map<Long, ReadingTaken> newest = new LinkedHashMap<>();
      for (long magnet : magnets.keySet()) {
        archive.forEachOfMagnet(
            magnet,
            stored -> {
              if (EventCodec.decode(stored).event() instanceof ReadingTaken reading
                  && reading.stage().equals(CHARGED)) {
                newest.put(magnet, reading);
              }
            });
      }
      Map<String, Charged> groups = new LinkedHashMap<>();
      newest.forEach(
          (magnet, reading) -> {
            MagnetNamed like = magnets.get(magnet);
            if (like != null) {
              String kind =
                  like.shape()
                      + like.sizesMicroMetres()
                      + reading.nest()
                      + reading.standOffMicroMetres();
              List<Double> more =
                  new ArrayList<>(
                      Optional.ofNullable(groups.get(kind))
                          .map(Charged::readings)
                          .orElse(List.of()));
              more.add(Math.abs(reading.fieldMicroTesla()) * 1e-6);
              groups.put(
                  kind, new Charged(like, reading.nest(), reading.standOffMicroMetres(), more));
            }
          });
      return List.copyOf(groups.values());
    }
  }
}
