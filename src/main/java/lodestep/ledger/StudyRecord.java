package lodestep.ledger;

import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.port.GaugeEvent.StudyRead;
import lodestep.port.GaugeEvent.StudyStarted;
import lodestep.port.LedgerArchive;

/**
 * The guided studies of the gauge that are on record, oldest first. Any thread, immutable.
 *
 * @param studies each with what was read in it
 */
public record StudyRecord(List<Study> studies) {

  /** Of a ledger that is not there yet. */
  public static final StudyRecord NONE = new StudyRecord(List.of());

  private static final String PLACEMENT = "placement";

  public StudyRecord {
    studies = List.copyOf(studies);
  }

  /**
   * One study.
   *
   * @param number of the event that began it
   * @param readings in the order they were taken
   * @param newest number of the newest of its events
   * @param wall when it was begun, by the wall clock
   */
  public record Study(
      long number, StudyStarted begun, List<StudyRead> readings, long newest, Instant wall) {
    public Study {
      readings = List.copyOf(readings);
    }

    /** Whether it is one of how magnets lie. */
    public boolean ofPlacement() {
      return begun.method().equals(PLACEMENT);
    }

    /** Names of its magnets. */
    public List<String> magnets() {
      return lines(begun.magnets());
    }

    /** Names of its persons; one without a name in a placement study. */
    public List<String> persons() {
      return begun.persons().isEmpty() ? List.of("") : lines(begun.persons());
    }

    /** How many readings it is to have. */
    public long asked() {
      return begun.times() * magnets().size() * persons().size();
    }

    /** Whether it has them all. */
    public boolean complete() {
      return readings.size() >= asked();
    }

    private static List<String> lines(String text) {
      return text.lines().toList();
    }
  }

  /** Of this record; errors are the archive's. */
  public static StudyRecord of(LedgerArchive archive) {
    Map<Long, LedgerEntry> begun = new LinkedHashMap<>();
    Map<Long, List<StudyRead>> read = new LinkedHashMap<>();
    Map<Long, Long> newest = new HashMap<>();
    archive.forEachOfKind(
        EventCodec.kind(StudyStarted.class),
        stored -> {
          LedgerEntry entry = EventCodec.decode(stored);
          begun.put(entry.number(), entry);
          newest.put(entry.number(), entry.number());
        });
    archive.forEachOfKind(
        EventCodec.kind(StudyRead.class),
        stored -> {
          LedgerEntry entry = EventCodec.decode(stored);
          StudyRead reading = (StudyRead) entry.event();
          read.computeIfAbsent(reading.study(), study -> new ArrayList<>()).add(reading);
          newest.put(reading.study(), entry.number());
        });
    return new StudyRecord(
        begun.entrySet().stream()
            .map(
                each ->
                    new Study(
                        each.getKey(),
                        (StudyStarted) each.getValue().event(),
                        read.getOrDefault(each.getKey(), List.of()),
                        newest.getOrDefault(each.getKey(), each.getKey()),
                        each.getValue().wall()))
            .toList());
  }

  /** The newest that is not complete. */
  public Optional<Study> open() {
    return studies.stream().filter(study -> !study.complete()).reduce((earlier, later) -> later);
  }

  /** The study with this number. */
  public Optional<Study> numbered(long number) {
    return studies.stream().filter(study -> study.number() == number).findFirst();
  }

  /** The newest complete placement study of this nest at this stand-off. */
  public Optional<Study> placement(String nest, long standOffMicroMetres) {
    return newest(PLACEMENT, nest, standOffMicroMetres);
  }

  /** The newest complete crossed study of this nest at this stand-off. */
  public Optional<Study> crossed(String nest, long standOffMicroMetres) {
    return newest("crossed", nest, standOffMicroMetres);
  }

  private Optional<Study> newest(String method, String nest, long standOffMicroMetres) {
    return studies.stream()
        .filter(Study::complete)
        .filter(study -> study.begun().method().equals(method))
        .filter(study -> study.begun().nest().equals(nest))
        .filter(study -> study.begun().standOffMicroMetres() == standOffMicroMetres)
        .reduce((earlier, later) -> later);
  }
}
