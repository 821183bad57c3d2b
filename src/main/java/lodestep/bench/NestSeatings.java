package lodestep.bench;

import java.time.ZoneOffset;
import java.util.List;
import java.util.stream.Collectors;
import lodestep.config.NestConfig;
import lodestep.ledger.StudyRecord;
import lodestep.measure.PlacementStudy;
import lodestep.measure.Seating;
import lodestep.measure.StandardUncertainty;
import lodestep.port.GaugeEvent.StudyRead;
import lodestep.port.LedgerArchive;

/**
 * How a magnet lies in each nest of a rig: by the newest complete placement studies of the nest on
 * record in which no magnet was turned over, else as is usual. Several count together, so that who
 * repeats a study until it comes out small gains nothing by it. Any thread, immutable.
 *
 * @param known what each such study came to, oldest first
 */
public record NestSeatings(List<Known> known) {

  /** Where nothing has been studied. */
  public static final NestSeatings USUAL = new NestSeatings(List.of());

  /** A nest wears, and is cleaned: what is older than so many studies no longer counts. */
  static final int STUDIES = 5;

  public NestSeatings {
    known = List.copyOf(known);
  }

  /**
   * What one study came to.
   *
   * @param nest that was studied, at this stand-off
   * @param newest number of its last reading
   */
  public record Known(String nest, long standOffMicroMetres, long newest, Seating seating) {}

  /** By this record; errors are the archive's. */
  public static NestSeatings of(LedgerArchive archive) {
    return of(StudyRecord.of(archive));
  }

  /** By these studies; each is reckoned once. */
  public static NestSeatings of(StudyRecord studies) {
    return new NestSeatings(
        studies.studies().stream()
            .filter(StudyRecord.Study::ofPlacement)
            .filter(StudyRecord.Study::complete)
            .filter(NestSeatings::ofOneFaceEach)
            .map(NestSeatings::studied)
            .toList());
  }

  /** As it was known when this entry was written. */
  public NestSeatings before(long number) {
    return new NestSeatings(known.stream().filter(study -> study.newest() < number).toList());
  }

  /** In this nest. */
  public Seating in(NestConfig nest) {
    return in(nest.name(), nest.standOff().microMetres());
  }

  /** In a nest of this name and stand-off. */
  public Seating in(String nest, long standOffMicroMetres) {
    List<Seating> studied =
        known.stream()
            .filter(study -> study.nest().equals(nest))
            .filter(study -> study.standOffMicroMetres() == standOffMicroMetres)
            .map(Known::seating)
            .toList();
    int all = studied.size();
    return all == 0 ? Seating.usual() : together(studied.subList(Math.max(0, all - STUDIES), all));
  }

  private static Seating together(List<Seating> studied) {
    Seating newest = studied.get(studied.size() - 1);
    return studied.size() == 1
        ? newest
        : new Seating(
            StandardUncertainty.pooled(studied.stream().map(Seating::relative).toList()),
            newest.known() + ", with " + (studied.size() - 1) + " before it");
  }

  /** A magnet that was turned over between two readings says nothing of how it lies. */
  private static boolean ofOneFaceEach(StudyRecord.Study study) {
    return study.readings().stream()
        .collect(Collectors.groupingBy(StudyRead::part))
        .values()
        .stream()
        .allMatch(
            of ->
                of.stream().allMatch(read -> read.fieldMicroTesla() > 0)
                    || of.stream().allMatch(read -> read.fieldMicroTesla() < 0));
  }

  private static Known studied(StudyRecord.Study study) {
    return new Known(
        study.begun().nest(),
        study.begun().standOffMicroMetres(),
        study.newest(),
        new Seating(
            PlacementStudy.of(GuidedStudy.measured(study.readings())).seating(),
            "placement study of "
                + study.wall().atOffset(ZoneOffset.UTC).toLocalDate()
                + ", entry "
                + study.number()));
  }
}
