package lodestep.ledger;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.NestConfig;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.port.GaugeEvent.HandGaugeRelated;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;

/**
 * What is on record of the gauge itself, each in the order it happened. Any thread, immutable.
 *
 * @param readings of reference magnets
 * @param judgements what checks came to
 * @param relations to hand gauges
 */
public record GaugeRecord(
    List<Entry<ReferenceRead>> readings,
    List<Entry<GaugeJudged>> judgements,
    List<Entry<HandGaugeRelated>> relations) {

  /** Of a ledger that is not there yet. */
  public static final GaugeRecord NONE = new GaugeRecord(List.of(), List.of(), List.of());

  /** An event of one kind, with its number and when it was, in milliseconds since 1970. */
  public record Entry<E>(long number, long wallEpochMs, E event) {}

  public GaugeRecord {
    readings = List.copyOf(readings);
    judgements = List.copyOf(judgements);
    relations = List.copyOf(relations);
  }

  /** Of this record; errors are the archive's. */
  public static GaugeRecord of(LedgerArchive archive) {
    return new GaugeRecord(
        all(archive, ReferenceRead.class),
        all(archive, GaugeJudged.class),
        all(archive, HandGaugeRelated.class));
  }

  private static <E extends LedgerEvent> List<Entry<E>> all(LedgerArchive archive, Class<E> kind) {
    List<Entry<E>> found = new ArrayList<>();
    archive.forEachOfKind(
        EventCodec.kind(kind),
        stored -> {
          LedgerEntry entry = EventCodec.decode(stored);
          found.add(
              new Entry<>(entry.number(), entry.wall().toEpochMilli(), kind.cast(entry.event())));
        });
    return found;
  }

  /** What the newest check in this nest came to; empty if there was none. */
  public Optional<GaugeJudged> standing(String nest) {
    return judgements.stream()
        .map(Entry::event)
        .filter(judged -> judged.nest().equals(nest))
        .reduce((earlier, later) -> later);
  }

  /** Readings of this reference magnet in this nest, at the stand-off that it has now. */
  public List<Entry<ReferenceRead>> readingsOf(String reference, NestConfig nest) {
    return readings.stream()
        .filter(entry -> entry.event().reference().equals(reference))
        .filter(entry -> entry.event().nest().equals(nest.name()))
        .filter(entry -> entry.event().standOffMicroMetres() == nest.standOff().microMetres())
        .toList();
  }

  /** The reading that this check judged, if it is on record. */
  public Optional<ReferenceRead> judgedBy(GaugeJudged judged) {
    return readings.stream()
        .filter(entry -> entry.number() == judged.reading())
        .map(Entry::event)
        .findFirst();
  }

  /** Whether this reading was judged and found in control. */
  public boolean inControl(long reading) {
    return judgements.stream()
        .map(Entry::event)
        .anyMatch(judged -> judged.reading() == reading && judged.inControl());
  }
}
