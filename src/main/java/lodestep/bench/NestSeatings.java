package lodestep.bench;

import java.util.stream.Collectors;
import lodestep.config.NestConfig;
import lodestep.ledger.StudyRecord;
import lodestep.measure.PlacementStudy;
import lodestep.measure.Seating;
import lodestep.port.GaugeEvent.StudyRead;
import lodestep.port.LedgerArchive;

/**
 * How a magnet lies in each nest of a rig: by the newest complete placement study of the nest on
 * record, else as is usual. Any thread, immutable.
 *
 * @param studies all that are on record
 */
public record NestSeatings(StudyRecord studies) {

  /** Where nothing has been studied. */
  public static final NestSeatings USUAL = new NestSeatings(StudyRecord.NONE);

  /** By this record; errors are the archive's. */
  public static NestSeatings of(LedgerArchive archive) {
    return new NestSeatings(StudyRecord.of(archive));
  }

  /** As it was known when this entry was written. */
  public NestSeatings before(long number) {
    return new NestSeatings(studies.before(number));
  }

  /** In this nest. */
  public Seating in(NestConfig nest) {
    return in(nest.name(), nest.standOff().microMetres());
  }

  /** In a nest of this name and stand-off. */
  public Seating in(String nest, long standOffMicroMetres) {
    return studies
        .placement(nest, standOffMicroMetres)
        .filter(NestSeatings::ofOneFaceEach)
        .map(NestSeatings::studied)
        .orElseGet(Seating::usual);
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

  private static Seating studied(StudyRecord.Study study) {
    return new Seating(
        PlacementStudy.of(GuidedStudy.measured(study.readings())).seating(),
        "placement study, entry " + study.number());
  }
}
