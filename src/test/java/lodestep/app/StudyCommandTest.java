package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import lodestep.adapter.paper.OutsideReader;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.app.CommandRun.Ended;
import lodestep.bench.GuidedStudy;
import lodestep.bench.LedgerStart;
import lodestep.bench.SeriesJob;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.StudyRecord;
import lodestep.port.GaugeEvent.StudyRead;
import lodestep.port.GaugeEvent.StudyStarted;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.sim.VirtualLedger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a winder learns what a seating is worth with no sheet to fill in, and may take a break. */
class StudyCommandTest {

  private static final Instant WALL = Instant.parse("2031-05-06T09:00:00Z");

  private final Path folder;
  private final Path ledger;
  private final Wiring wiring = new Wiring(Outside.unattended());

  StudyCommandTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("study.ledger");
  }

  private StudyRecord.Study newest() {
    List<StudyRecord.Study> all = wiring.gauge().studies(ledger).studies();
    return all.get(all.size() - 1);
  }

  /** The readings as a person would have written them down. */
  private String sheet(boolean crossed) throws IOException {
    StringBuilder text = new StringBuilder(crossed ? "magnet,person," : "magnet,");
    text.append("reading G\n");
    for (StudyRead read : newest().readings()) {
      text.append(read.part()).append(',');
      text.append(crossed ? read.person() + "," : "");
      text.append(FluxDensity.ofMicroTesla(read.fieldMicroTesla()).gauss()).append('\n');
    }
    return Files.writeString(folder.resolve("sheet.csv"), text).toString();
  }

  @Test
  void placementIsGuidedAndComesOutAsTheSameReadingsInAFile() throws IOException {
    Ended words =
        CommandRun.on(
            ledger,
            "gauge",
            "study",
            "--guided",
            "placement",
            "--times",
            "24",
            "--tolerance",
            "12 G");
    long entry = newest().number();
    JsonNode guided =
        CommandRun.on(ledger, "gauge", "study", "--entry", "" + entry, "--json").json();
    JsonNode typed =
        CommandRun.run("gauge", "study", sheet(false), "--tolerance", "12 G", "--json").json();

    assertThat(words.code()).as(words.err()).isZero();
    assertThat(words.out())
        .contains("24 of 24: put the magnet in the rod nest", "Take it right out of the rod nest.")
        .contains("All 24 readings are on record.", "Verdict: of limited use", "± 12.0 G");
    assertThat(newest().complete()).isTrue();
    double seating = guided.get("seating").get("value").asDouble();
    assertThat(seating).isCloseTo(typed.get("seating").get("value").asDouble(), within(1e-9));
    assertThat(guided.get("seatingFraction").asDouble())
        .isCloseTo(typed.get("seatingFraction").asDouble(), within(1e-6));
    // The virtual rig seats with 0.15 per cent; a chi-squared of 23 degrees covers half to one and
    // a half times that with more than 99.9 per cent.
    assertThat(seating).isBetween(0.00075, 0.00225);
  }

  @Test
  void budgetTakesTheSeatingFromTheStudyOnRecordOfItsNestAlone() throws IOException {
    CommandRun.on(ledger, "gauge", "study", "--guided", "placement", "--times", "6");
    String[] budget = {"gauge", "budget", "--level", "430 G"};
    Ended rods = CommandRun.on(ledger, budget);
    Ended bars = CommandRun.on(ledger, CommandRun.with(budget, "--nest", "bar nest"));

    assertThat(rods.out().replaceAll("\\s+", " "))
        .containsPattern("placement study of \\d{4}-\\d\\d-\\d\\d, entry " + newest().number());
    assertThat(bars.out()).contains("usual, until studied");
  }

  /**
   * One that seats badly: what it makes of a reading narrows what may be asked and is certified.
   */
  @Test
  void planAndCertificateCountTheStudyOfTheNest() throws IOException, InterruptedException {
    String plan = "name,alloy,shape,size,pole up,target,tolerance\n";
    String file =
        Files.writeString(
                folder.resolve("one.csv"),
                plan + "finch,alnico 5,rod,4.7 x 15.5 mm,north,410 G,4 G\n")
            .toString();
    Ended before = CommandRun.on(ledger, "batch", file);
    recordStudyScatteringBy(0.01);
    Ended after = CommandRun.on(ledger, "plan", file);
    Ended matched = CommandRun.on(ledger, "match", file);
    String easy = plan + "wren,alnico 5,rod,4.7 x 15.5 mm,north,410 G,35 G\n";
    Ended wider =
        CommandRun.on(
            ledger, "batch", Files.writeString(folder.resolve("easy.csv"), easy).toString());
    Path paper = folder.resolve("wren.pdf");
    CommandRun.on(ledger, "certificate", "wren", "--pdf", paper.toString());

    assertThat(before.code()).as(before.err()).isZero();
    assertThat(after.code()).isEqualTo(2);
    assertThat(after.err())
        .contains(
            "4.0 G is tighter than this gauge can tell at 410 G, since one seating in the rod nest"
                + " counts with ",
            ", entry " + newest().number() + ")",
            "lodestep gauge study --guided placement");
    // What was accepted before is matched by what was known then.
    assertThat(matched.code()).as(matched.out() + matched.err()).isZero();
    assertThat(wider.code()).as(wider.err()).isZero();
    assertThat(OutsideReader.text(paper))
        .containsPattern(
            "placement counted with\\s+1\\.\\d\\d\\s+per\\s+cent\\s+\\(placement\\s+study");
  }

  @Test
  void studyInWhichAMagnetWasTurnedOverCountsForNothing() {
    recordStudyScatteringBy(2);

    Ended budget = CommandRun.on(ledger, "gauge", "budget", "--level", "430 G");
    assertThat(budget.code()).as(budget.err()).isZero();
    assertThat(budget.out()).contains("usual, until studied");
  }

  /** Five seatings of one rod that scatter by so much of its reading. */
  private void recordStudyScatteringBy(double part) {
    RigConfig rig = wiring.rig(Optional.empty());
    NestConfig nest = rig.nest("rod nest");
    wiring
        .gauge()
        .keep(
            rig,
            ledger,
            new StudyStarted(
                "placement", nest.name(), nest.standOff().microMetres(), "rod", "", 5, 0),
            "a study");
    long study = newest().number();
    double[] off = {0, 1, -1, 1, -1};
    for (int at = 0; at < off.length; at++) {
      long field = Math.round(41_000 * (1 + part * off[at]));
      wiring
          .gauge()
          .keep(
              rig,
              ledger,
              new StudyRead(study, at + 1, "rod", "", field, 20_000, 50, 2_150, 0, 0),
              "a study");
    }
  }

  @Test
  void crossedStudyIsBlindAndAnalysedAtItsEnd() throws IOException {
    Ended words =
        CommandRun.on(
            ledger,
            "gauge",
            "study",
            "--guided",
            "crossed",
            "--magnets",
            "low,middle,high",
            "--persons",
            "first,second",
            "--times",
            "2",
            "--tolerance",
            "15 G");
    JsonNode guided =
        CommandRun.on(ledger, "gauge", "study", "--entry", "" + newest().number(), "--json").json();
    JsonNode typed =
        CommandRun.run("gauge", "study", sheet(true), "--tolerance", "15 G", "--json").json();

    assertThat(words.code()).as(words.out() + words.err()).isZero();
    String before = words.out().substring(0, words.out().indexOf("All 12 readings"));
    assertThat(before).contains("second puts low in the rod nest").doesNotContain(" G ±");
    assertThat(words.out()).contains("Crossed study: 3 magnets, 2 persons, 2 readings");
    assertThat(guided.get("analysisOfVariance").get("scatter").get("gauge").asDouble())
        .isCloseTo(
            typed.get("analysisOfVariance").get("scatter").get("gauge").asDouble(), within(1e-9));
    assertThat(guided.get("gaugeFraction").asDouble())
        .isCloseTo(typed.get("gaugeFraction").asDouble(), within(1e-6));
  }

  /** Ended at its third reading, and gone on with by the command. */
  @Test
  void studyThatWasEndedKeepsItsReadingsAndGoesOn() throws IOException {
    SeriesJob.Done done = endedAfter(3);
    assertThat(done.series().complete()).isFalse();
    List<StudyRead> kept = newest().readings();
    Ended early = CommandRun.on(ledger, "gauge", "study", "--entry", "" + newest().number());

    Ended on = CommandRun.on(ledger, "gauge", "study", "--continue");

    assertThat(kept).hasSize(3);
    assertThat(early.code()).isEqualTo(2);
    assertThat(early.err()).contains("has 3 of 8 readings", "--continue");
    assertThat(on.code()).as(on.err()).isZero();
    assertThat(on.out()).contains("4 of 8: put swift").doesNotContain("3 of 8: put");
    assertThat(newest().readings()).hasSize(8).startsWith(kept.toArray(StudyRead[]::new));
    // Nobody seats a magnet twice the same way, also not after a break.
    assertThat(newest().readings().stream().map(StudyRead::fieldMicroTesla).distinct().count())
        .isGreaterThan(4);
    assertThat(CommandRun.on(ledger, "gauge", "study", "--continue").err())
        .contains("no study of the gauge was left open");
  }

  private SeriesJob.Done endedAfter(int readings) {
    RigConfig rig = wiring.rig(Optional.empty());
    NestConfig nest = rig.nest("rod nest");
    GuidedStudy study = GuidedStudy.of("placement", List.of("swift"), List.of(), 8);
    LedgerStart.Program program = wiring.program(rig, "1", Calibrated.nominally(rig));
    Queue<String> typed = new ArrayDeque<>();
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    try (SqliteStore store = SqliteStore.open(ledger, binding, 0, WALL)) {
      VirtualLedger twin = new VirtualLedger(1, store);
      LedgerEvent begins = study.started(nest, Optional.of(FluxDensity.ofGauss(12)));
      GuidedBench bench =
          new GuidedBench(
              new InsideHead(rig, VirtualStudy.order(study, nest, 0, 1), WALL, Optional.empty()),
              new GuidedBench.Gauge(program.calibration(), rig.limits()),
              SeriesJob.begin(
                  study.work(rig, nest, program.calibration(), begins),
                  LedgerStart.of(store, rig, program).prologue()),
              twin,
              twin::advance,
              new GuidedBench.Words("", "", false));
      return (SeriesJob.Done)
          bench.toTheEnd(new TypesAfter(StudyRead.class, readings, "q", typed), typed, () -> false);
    }
  }
}
