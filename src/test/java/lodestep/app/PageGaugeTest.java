package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lodestep.adapter.serial.Polling;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the gauge is checked and studied from the page by the same guided work as by command, in
 * the loop of the rig that runs.
 */
class PageGaugeTest extends PageAtRig {

  private static final String RECORD = "/api/v1/gauge/record";

  PageGaugeTest(@TempDir Path folder) {
    super(folder, "gauge.ledger");
  }

  private JsonNode record() {
    try {
      return page.get(RECORD).json();
    } catch (IOException gone) {
      throw new UncheckedIOException(gone);
    }
  }

  private JsonNode reference() {
    return record().path("references").get(0);
  }

  private JsonNode seatings() {
    return record().path("seatings");
  }

  /** Zero over the empty nest, the reference laid in, read and judged. */
  @Test
  void checksTheGaugeByAReference() throws IOException {
    JsonNode before = reference();
    assertThat(before.has("inControl")).isFalse();

    JsonNode begun = act("/gauge/checks", object().put("reference", before.path("name").asText()));
    assertThat(begun.path("done").asBoolean()).as(begun.toString()).isTrue();
    await("the zero is asked for", now -> now.path("ask").asText().equals("leave_empty"));
    done();
    await("the reference is asked for", now -> now.path("ask").asText().equals("seat"));
    assertThat(now().path("sentence").asText()).contains("Put the reference");
    seated("put-in", true);
    done();
    await("it is judged", now -> phase(now).equals("done"));

    Polling.until("it is safe on disk", () -> !reference().path("readings").isEmpty());
    JsonNode after = reference();
    assertThat(after.path("inControl").asBoolean()).as(after.toString()).isTrue();
    assertThat(after.path("readings")).hasSize(1);
    double certificate = after.path("tesla").asDouble();
    assertThat(after.path("readings").get(0).path("tesla").asDouble())
        .isCloseTo(certificate, within(0.01 * Math.abs(certificate)));
    assertThat(now().path("sentence").asText()).isEqualTo("The gauge is in control.");
    JsonNode chart = CommandRun.on(ledger, "gauge", "chart", "--json").json();
    assertThat(chart.path("readings")).hasSize(1);
  }

  @Test
  void studiesWhatOneSeatingIsWorth() throws IOException {
    JsonNode begun =
        act(
            "/gauge/studies",
            object()
                .put("nest", "rod nest")
                .put("magnet", "plain rod")
                .put("times", "5")
                .put("tolerance", "12 G"));
    assertThat(begun.path("done").asBoolean()).as(begun.toString()).isTrue();
    await("the zero is asked for", now -> now.path("ask").asText().equals("leave_empty"));
    done();
    for (int time = 1; time <= 5; time++) {
      String of = time + " of 5";
      if (time > 1) {
        await("it is to be taken out", now -> now.path("ask").asText().equals("take_out"));
        seated("take-out", false);
      }
      await(
          of,
          now ->
              now.path("sentence").asText().contains(of)
                  && now.path("ask").asText().equals("seat"));
      seated("put-in", true);
      done();
    }
    await("it is over", now -> phase(now).equals("done"));

    Polling.until("it is safe on disk", () -> !seatings().isEmpty());
    JsonNode found = seatings().get(0);
    assertThat(found.path("nest").asText()).isEqualTo("rod nest");
    assertThat(found.path("readings").asInt()).isEqualTo(5);
    assertThat(found.path("fraction").asDouble()).isBetween(0.0, 0.01);
    assertThat(found.path("fractionAtMost").asDouble())
        .isGreaterThan(found.path("fraction").asDouble());
    assertThat(found.path("verdict").asText()).isNotEmpty();
    String entry = found.path("entry").asText();
    assertThat(CommandRun.on(ledger, "gauge", "study", "--entry", entry).out())
        .contains("One seating moves the reading");
  }

  private void seatedAs(String count) throws IOException {
    await(
        count,
        now ->
            now.path("sentence").asText().contains(count)
                && now.path("ask").asText().equals("seat"));
    seated("put-in", true);
    done();
  }

  private void leavesACrossedStudyOpenAfterOne() throws IOException {
    JsonNode begun =
        act(
            "/gauge/studies",
            object()
                .put("nest", "rod nest")
                .put("magnets", "pale, dark")
                .put("persons", "first, second")
                .put("times", "2")
                .put("tolerance", "12 G"));
    assertThat(begun.path("done").asBoolean()).as(begun.toString()).isTrue();
    await("the zero is asked for", now -> now.path("ask").asText().equals("leave_empty"));
    done();
    seatedAs("1 of 8");
    assertThat(now().path("reading").path("kept").asBoolean()).isTrue();
    assertThat(now().path("reading").has("tesla")).isFalse();
    await("it is read", now -> now.path("ask").asText().equals("take_out"));
    act("/commands", object().put("what", "finish"));
    await("it is left open", now -> phase(now).equals("done"));
    Polling.until("one is on record", () -> record().path("open").path("readings").asInt() == 1);
    assertThat(record().path("crossed")).isEmpty();
  }

  /** Its figures are those of the command, which are held against a worked example elsewhere. */
  @Test
  void studiesWhoseTheScatterIsAndShowsNoReadingBeforeTheEnd() throws IOException {
    leavesACrossedStudyOpenAfterOne();

    assertThat(act("/gauge/studies", object().put("again", "on")).path("done").asBoolean())
        .isTrue();
    await("the zero is asked for", now -> now.path("ask").asText().equals("leave_empty"));
    seated("take-out", false);
    done();
    for (int time = 2; time <= 8; time++) {
      if (time > 2) {
        await("it is to be taken out", now -> now.path("ask").asText().equals("take_out"));
        seated("take-out", false);
      }
      seatedAs(time + " of 8");
    }
    await("it is over", now -> phase(now).equals("done"));

    Polling.until("it is safe on disk", () -> !record().path("crossed").isEmpty());
    JsonNode found = record().path("crossed").get(0);
    String entry = found.path("entry").asText();
    JsonNode told = CommandRun.on(ledger, "gauge", "study", "--entry", entry, "--json").json();
    assertThat(found.path("fraction").asDouble()).isEqualTo(told.path("gaugeFraction").asDouble());
    assertThat(found.path("verdict").asText()).isEqualTo(told.path("verdict").asText());
    assertThat(found.path("variance").path("gauge").asDouble())
        .isEqualTo(
            told.path("analysisOfVariance").path("scatter").path("repeatability").asDouble());
    assertThat(found.path("ranges").path("persons").asDouble())
        .isEqualTo(told.path("averageAndRange").path("reproducibility").asDouble());
  }

  private void threeRodsAreOnRecord() throws IOException {
    served.close();
    Path plan = ledger.resolveSibling("pairs.csv");
    Files.writeString(
        plan,
        """
        name,alloy,shape,size,pole up,target,tolerance,count
        teal-a,alnico 5,rod,4.7 x 17.2 mm,south,560 G,14 G,1
        teal-b,alnico 5,rod,4.7 x 17.2 mm,south,440 G,14 G,1
        teal-c,alnico 5,rod,4.7 x 17.2 mm,south,330 G,14 G,1
        """);
    assertThat(CommandRun.on(ledger, "batch", plan.toString()).code()).isZero();
    serve();
  }

  @Test
  void relatesAHandGaugeByWhatWasTypedBesideTheRigsReadings() throws IOException {
    threeRodsAreOnRecord();
    assertThat(record().path("pairs")).isEmpty();

    double[] scatter = {1.002, 0.999, 1.0};
    String[] names = {"teal-a", "teal-b", "teal-c"};
    for (int at = 0; at < names.length; at++) {
      JsonNode magnet = page.get("/api/v1/things?find=" + names[at]).json().path("magnets").get(0);
      double gauss = Math.abs(magnet.path("tesla").asDouble()) * 1e4;
      JsonNode said =
          act(
              "/gauge/typed",
              object()
                  .put("magnet", names[at])
                  .put("gauge", "shelf gauge")
                  .put("reading", Math.round(gauss * 0.94 * scatter[at]) + " G south"));
      assertThat(said.path("done").asBoolean()).as(said.toString()).isTrue();
    }

    JsonNode pairs = record().path("pairs").get(0);
    assertThat(pairs.path("gauge").asText()).isEqualTo("shelf gauge");
    assertThat(pairs.path("magnets")).hasSize(3);
    assertThat(pairs.path("ratio").asDouble()).as(pairs.toString()).isCloseTo(0.94, within(0.004));
    JsonNode said =
        act(
            "/gauge/relations",
            object()
                .put("gauge", "shelf gauge")
                .put("nest", pairs.path("nest").asText())
                .put("shape", pairs.path("shape").asText()));
    assertThat(said.path("done").asBoolean()).as(said.toString()).isTrue();
    assertThat(record().path("relations").get(0).path("ratio").asDouble())
        .isCloseTo(pairs.path("ratio").asDouble(), within(1e-6));
    assertThat(act("/gauge/typed", object().put("magnet", "none").put("reading", "3 G")).toString())
        .contains("Name the gauge");
    assertThat(act("/gauge/relations", object().put("gauge", "other")).path("sentence").asText())
        .contains("no reading of 'other' was typed");
  }

  /**
   * Prometheus' text form: a line of help and of type, and a figure that grows as scans are run.
   */
  @Test
  void tellsItsFiguresToWhoeverKeepsThem() throws IOException {
    double first = metric("lodestep_scans_total");
    Polling.until("the loop runs on", () -> metric("lodestep_scans_total") > first);

    String text = page.get("/api/v1/metrics").body();
    assertThat(text)
        .contains("# TYPE lodestep_scans_total counter", "lodestep_phase{phase=\"idle\"} 1.0")
        .contains(
            "# TYPE lodestep_bank_volts gauge",
            "lodestep_coil_temperature_celsius",
            "lodestep_reading_tesla");
    assertThat(metric("lodestep_record_durable_entry")).isPositive();
    assertThat(metric("lodestep_tripped")).isZero();
  }

  private double metric(String name) {
    try {
      return page.get("/api/v1/metrics")
          .body()
          .lines()
          .filter(line -> line.startsWith(name + " "))
          .mapToDouble(line -> Double.parseDouble(line.substring(name.length() + 1)))
          .findFirst()
          .orElseThrow();
    } catch (IOException gone) {
      throw new UncheckedIOException(gone);
    }
  }

  @Test
  void saysWhatCannotBeStudiedOrChecked() throws IOException {
    for (ObjectNode order :
        List.of(
            object().put("nest", "no such nest"),
            object().put("nest", "rod nest").put("times", "2"),
            object().put("nest", "rod nest").put("tolerance", "wide"))) {
      JsonNode said = act("/gauge/studies", order);
      assertThat(said.path("done").asBoolean()).isFalse();
      assertThat(said.path("sentence").asText()).isNotEmpty();
    }
    assertThat(act("/gauge/checks", object().put("reference", "none")).path("sentence").asText())
        .contains("names no reference magnet 'none'");
    assertThat(phase(now())).isEqualTo("idle");
  }
}
