package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.ledger.StudyRecord;
import lodestep.port.Command;
import lodestep.port.GaugeEvent.StudyRead;
import lodestep.port.GaugeEvent.StudyStarted;
import lodestep.port.HandAsk;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.ZeroTaken;
import org.junit.jupiter.api.Test;

/** Goal: only a magnet that was really seated anew is read. Method: a gauge that reads as told. */
class SeriesJobTest {

  private static final RigConfig RIG = ReferenceRig.virtual();
  private static final NestConfig NEST = RIG.nest("rod nest");
  private static final GuidedStudy STUDY =
      GuidedStudy.of("placement", List.of("swift"), List.of(), 5);

  private final ToldGauge bench =
      new ToldGauge(
          SeriesJob.begin(
              STUDY.work(RIG, NEST, ToldGauge.CALIBRATION, STUDY.started(NEST, Optional.empty())),
              List.of(new LedgerEvent.CalibrationSet(500_000, 0, 0, 0, ""))));

  private HandAsk ask() {
    return bench.job.cue().ask();
  }

  private List<StudyRead> read() {
    return bench.all(StudyRead.class);
  }

  @Test
  void zeroThenEachSeatingIsReadAndOnRecordUnderTheStudysNumber() {
    bench.step();
    assertThat(ask()).isEqualTo(HandAsk.LEAVE_EMPTY);
    bench.done(0.4);
    assertThat(bench.job.sentence()).startsWith("1 of 5: put swift in the rod nest");
    for (int seating = 0; seating < 5; seating++) {
      bench.done(410.4 + seating);
      bench.reads(0.4, 0.1);
    }

    assertThat(bench.job.over()).isTrue();
    assertThat(bench.job.sentence()).isEqualTo("All 5 readings are on record.");
    assertThat(bench.events.get(1)).isInstanceOf(StudyStarted.class);
    assertThat(read()).hasSize(5).allMatch(reading -> reading.study() == 2);
    for (int seating = 0; seating < 5; seating++) {
      StudyRead reading = read().get(seating);
      assertThat(reading.ordinal()).isEqualTo(seating + 1);
      assertThat(reading.fieldMicroTesla())
          .isBetween(40_990L + 100L * seating, 41_010L + 100L * seating);
      assertThat(reading.zero()).isEqualTo(3);
      assertThat(reading.calibration()).isEqualTo(1);
    }
  }

  @Test
  void magnetThatNeverLeftTheNestIsNotReadAgainHoweverOftenItIsSaid() {
    bench.step();
    bench.done(0);
    bench.done(410);
    assertThat(ask()).isEqualTo(HandAsk.TAKE_OUT);

    for (int i = 0; i < 50; i++) {
      bench.step(Command.CONTINUE);
    }
    bench.reads(300, 2);
    assertThat(ask()).isEqualTo(HandAsk.TAKE_OUT);
    assertThat(read()).hasSize(1);

    bench.reads(3, 0.05);
    assertThat(ask()).isEqualTo(HandAsk.SEAT);
  }

  @Test
  void emptyNestIsNoReading() {
    bench.step();
    bench.done(0);
    bench.done(4);

    assertThat(ask()).isEqualTo(HandAsk.LOOK);
    assertThat(bench.job.sentence()).contains("reads 4.0 G", "no charged magnet in the nest");
    bench.done(410);
    assertThat(read()).singleElement().satisfies(r -> assertThat(r.ordinal()).isEqualTo(1));
  }

  @Test
  void magnetThatWasTurnedOverIsAskedForAgainAndNothingOfItIsOnRecord() {
    bench.step();
    bench.done(0);
    bench.done(410);
    bench.reads(0, 0.1);
    bench.done(-402);

    assertThat(ask()).isEqualTo(HandAsk.LOOK);
    assertThat(bench.job.sentence())
        .contains("sees a south pole", "swift was read by its north one", "turn it over");
    assertThat(read()).hasSize(1);
    bench.done(411);
    assertThat(read()).hasSize(2).allMatch(reading -> reading.fieldMicroTesla() > 40_000);
  }

  /** Another magnet may stand on its head; the same one may not, also after a break. */
  @Test
  void eachMagnetOfAStudyKeepsThePoleItWasReadByFirst() {
    GuidedStudy two = GuidedStudy.of("placement", List.of("swift", "finch"), List.of(), 5);
    List<StudyRead> earlier =
        IntStream.rangeClosed(1, 6)
            .mapToObj(
                at ->
                    new StudyRead(
                        9,
                        at,
                        at < 6 ? "swift" : "finch",
                        "",
                        at < 6 ? 41_000 : -38_000,
                        20,
                        50,
                        2_150,
                        0,
                        0))
            .toList();
    StudyRecord.Study begun =
        new StudyRecord.Study(9, two.started(NEST, Optional.empty()), earlier, 20, Instant.EPOCH);
    ToldGauge again =
        new ToldGauge(
            SeriesJob.begin(
                two.rest(RIG, NEST, ToldGauge.CALIBRATION, begun),
                List.of(new LedgerEvent.CalibrationSet(500_000, 0, 0, 0, ""))));

    again.step();
    again.done(0);
    again.done(380);
    assertThat(again.job.sentence()).contains("sees a north pole", "finch was read by its south");
    again.done(-380.5);
    assertThat(again.all(StudyRead.class))
        .singleElement()
        .satisfies(taken -> assertThat(taken.ordinal()).isEqualTo(7));
  }

  /** The design's limit: a tenth of a millitesla, a gauss. */
  @Test
  void zeroThatJumpedWithinTheStudyIsRefusedWithItsReasonUntilItIsFoundWhereItWas() {
    bench.step();
    bench.done(0.5);
    bench.reads(0.5, 61);
    bench.done(410);
    bench.reads(1.9, 0.1);
    bench.done(1.9);

    assertThat(bench.all(ZeroTaken.class)).hasSize(1);
    assertThat(bench.all(LedgerEvent.ZeroRefused.class))
        .singleElement()
        .satisfies(
            refused -> {
              assertThat(refused.why()).contains("jumped by 1.4 G", "phone", "begin anew");
              assertThat(refused.zeroMilliCounts()).isBetween(94_000L, 96_000L);
              assertThat(refused.lastZeroMilliCounts()).isBetween(24_000L, 26_000L);
            });
    assertThat(ask()).isEqualTo(HandAsk.LEAVE_EMPTY);
    assertThat(bench.job.sentence()).contains("jumped by 1.4 G");

    bench.done(0.8);
    assertThat(bench.all(ZeroTaken.class)).hasSize(2);
    assertThat(ask()).isEqualTo(HandAsk.SEAT);
  }

  @Test
  void oldZeroIsTakenAnewWhileTheNestIsEmpty() {
    bench.step();
    bench.done(0);
    bench.reads(0, 61);
    bench.done(410);
    bench.reads(0.9, 0.1);

    assertThat(ask()).isEqualTo(HandAsk.LEAVE_EMPTY);
    bench.done(0.9);
    assertThat(bench.all(ZeroTaken.class)).hasSize(2);
    assertThat(ask()).isEqualTo(HandAsk.SEAT);
    bench.done(410.9);
    // The new zero counts: the reading is 410 G again.
    assertThat(read().get(1).fieldMicroTesla()).isBetween(40_990L, 41_010L);
    assertThat(read().get(1).zero()).isGreaterThan(read().get(0).zero());
  }

  @Test
  void endedInTheMiddleKeepsWhatWasRead() {
    bench.step();
    bench.done(0);
    bench.done(410);
    bench.step(Command.FINISH);

    assertThat(bench.job.over()).isTrue();
    assertThat(bench.job.sentence()).contains("with 1 of 5 readings on record");
    assertThat(read()).hasSize(1);
  }

  @Test
  void crossedStudyAsksEveryoneForEveryMagnetInEachRoundInADrawnOrder() {
    List<String> magnets = List.of("a", "b", "c", "d", "e", "f");
    GuidedStudy crossed = GuidedStudy.of("crossed", magnets, List.of("one", "two"), 3);
    List<GuidedStudy.Seating> all = crossed.seatingsIn("rod nest");

    assertThat(all).hasSize(36).isEqualTo(crossed.seatingsIn("rod nest"));
    for (int block = 0; block < 6; block++) {
      List<GuidedStudy.Seating> round = all.subList(6 * block, 6 * block + 6);
      assertThat(round).extracting(GuidedStudy.Seating::magnet).hasSameElementsAs(magnets);
      assertThat(round)
          .extracting(GuidedStudy.Seating::person)
          .containsOnly(block % 2 == 0 ? "one" : "two");
    }
    Set<List<String>> orders =
        java.util.stream.IntStream.range(0, 6)
            .mapToObj(
                block ->
                    all.subList(6 * block, 6 * block + 6).stream()
                        .map(GuidedStudy.Seating::magnet)
                        .toList())
            .collect(Collectors.toSet());
    assertThat(orders).hasSizeGreaterThan(3);
  }

  @Test
  void studyThatTellsNothingIsRefused() {
    isRefused("placement", List.of("a"), List.of(), 4, "5 times or more");
    isRefused("crossed", List.of("a"), List.of("x"), 3, "two magnets");
    isRefused("crossed", List.of("a", "b"), List.of(), 3, "persons' names");
    isRefused("crossed", List.of("a", "b"), List.of("x"), 1, "2 times or more");
    isRefused("crossed", List.of("a", "a"), List.of("x"), 2, "two magnets have the same name");
    isRefused("crossed", List.of("a", " "), List.of("x"), 2, "left empty");
    isRefused("placement", List.of("a"), List.of(), 2001, "at most");
    isRefused("dance", List.of("a"), List.of(), 5, "write placement or crossed");
  }

  private static void isRefused(
      String method, List<String> magnets, List<String> persons, int times, String why) {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> GuidedStudy.of(method, magnets, persons, times))
        .withMessageContaining(why);
  }
}
