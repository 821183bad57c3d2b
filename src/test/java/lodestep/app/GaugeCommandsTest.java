package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.paper.OutsideReader;
import lodestep.app.CommandRun.Ended;
import lodestep.config.RigConfig;
import lodestep.port.GaugeEvent.GaugeJudged;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a winder learns from the commands what the gauge is worth, and is stopped by a bad one. */
class GaugeCommandsTest {

  /** The measurement systems manual's study (AIAG, 4th ed.): a line for each person's trial. */
  private static final String PUBLISHED =
      """
      A .29 -.56 1.34 .47 -.80 .02 .59 -.31 2.26 -1.36
      A .41 -.68 1.17 .50 -.92 -.11 .75 -.20 1.99 -1.25
      A .64 -.58 1.27 .64 -.84 -.21 .66 -.17 2.01 -1.31
      B .08 -.47 1.19 .01 -.56 -.20 .47 -.63 1.80 -1.68
      B .25 -1.22 .94 1.03 -1.20 .22 .55 .08 2.12 -1.62
      B .07 -.68 1.34 .20 -1.28 .06 .83 -.34 2.19 -1.50
      C .04 -1.38 .88 .14 -1.46 -.29 .02 -.46 1.77 -1.49
      C -.11 -1.13 1.09 .20 -1.07 -.67 .01 -.56 1.45 -1.77
      C -.15 -.96 .67 .11 -1.45 -.49 .21 -.49 1.87 -2.16
      """;

  private static final String PLACED =
      """
      magnet,reading G
      heron,402.1
      heron,401.5
      heron,402.9
      heron,401.8
      heron,402.4
      """;

  private static final String PAIRS =
      """
      magnet,nest,hand
      a,300 G,331 G
      b,350 G,384 G
      c,400 G,441 G
      d,450.5 G,495 G
      e,500 G,551 G
      """;

  private static final String ORDER =
      """
      name,alloy,shape,size,pole up,target,tolerance,told by
      swift,alnico 3,rod,5.1 x 18 mm,north,415 G,12 G,shelf gauge
      """;

  private final Path folder;
  private final Path ledger;

  GaugeCommandsTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("gauge.ledger");
  }

  private String file(String name, String text) throws IOException {
    return Files.writeString(folder.resolve(name), text).toString();
  }

  private String crossed() throws IOException {
    StringBuilder text = new StringBuilder("magnet,person,reading G\n");
    PUBLISHED
        .lines()
        .forEach(
            line -> {
              String[] cells = line.split(" ", -1);
              for (int part = 1; part < cells.length; part++) {
                text.append("part ").append(part).append(',').append(cells[0]).append(',');
                text.append(cells[part]).append('\n');
              }
            });
    return file("crossed.csv", text.toString());
  }

  private static void isRefused(Ended ended, String... words) {
    assertThat(ended.code()).as(ended.out() + ended.err()).isEqualTo(2);
    assertThat(ended.out()).isEmpty();
    assertThat(ended.err().lines()).hasSize(1);
    assertThat(ended.err()).startsWith("lodestep: ").contains(words);
  }

  /** The figures are the manual's: 0.302372 by analysis of variance, 0.3058 by ranges. */
  @Test
  void publishedStudyComesOutAsPublished() throws IOException {
    Ended words = CommandRun.run("gauge", "study", crossed());
    JsonNode json = CommandRun.run("gauge", "study", crossed(), "--json").json();

    assertThat(words.code()).as(words.err()).isZero();
    assertThat(words.out())
        .contains("10 magnets, 3 persons, 3 readings", "0.3024", "0.3058", "27.9", "26.7")
        .contains("tells 4 kinds of magnets apart", "Verdict: of limited use");
    JsonNode scatter = json.get("analysisOfVariance").get("scatter");
    assertThat(scatter.get("gauge").asDouble() * 1e4).isCloseTo(0.302372, within(1e-6));
    assertThat(json.get("categories").asInt()).isEqualTo(4);
    assertThat(json.get("interactionPooled").asBoolean()).isTrue();
    assertThat(json.get("gaugeFraction").asDouble()).isCloseTo(0.279, within(5e-4));
  }

  /** By hand: six times 0.302372 G is 181 per cent of a band of one gauss. */
  @Test
  void gaugeThatTakesUpTheToleranceIsNotFit() throws IOException {
    Ended ended = CommandRun.run("gauge", "study", crossed(), "--tolerance", "0.5 G");

    assertThat(ended.code()).isEqualTo(1);
    assertThat(ended.out()).contains("Verdict: not fit", "181.4 %");
  }

  /** By hand: mean 402.14 G, deviation 0.5413 G, 0.1346 per cent. */
  @Test
  void placementStudyTellsWhatASeatingIsWorthAndTheBudgetTakesIt() throws IOException {
    String placed = file("placed.csv", PLACED);
    Ended words = CommandRun.run("gauge", "study", placed, "--tolerance", "20 G");
    JsonNode json = CommandRun.run("gauge", "study", placed, "--json").json();
    Ended budget = CommandRun.on(ledger, "gauge", "budget", "--level", "430 G", "--study", placed);

    assertThat(words.code()).as(words.out()).isZero();
    assertThat(words.out()).contains("402.1", "0.541", "0.135 %", "4 degrees of", "Verdict: good");
    assertThat(json.get("seating").get("value").asDouble()).isCloseTo(0.001346, within(1e-6));
    assertThat(budget.out()).contains("placement study", "seating");
  }

  /**
   * What a rig says of its element counts: 1.5 per cent, and half of 0.06 per cent over 10 K either
   * way, a rectangle's half width over the root of three (JCGM 100, 4.3.7).
   */
  @Test
  void budgetCountsWhatTheRigSaysOfItsGain() throws IOException {
    String shipped =
        Files.readString(
            Path.of(System.getProperty("lodestep.repository"))
                .resolve("firmware-host/board/rig-virtual.toml"));
    String says = "gain_percent_per_kelvin = -0.06\ngain_uncertainty_percent = 1.5\n";
    String rig = file("rig.toml", shipped.replace("[gauge]\n", "[gauge]\n" + says));
    String[] budget = {"gauge", "budget", "--level", "430 G", "--rig", rig, "--json"};
    JsonNode inputs = CommandRun.on(ledger, budget).json().get("budget").get("inputs");

    assertThat(inputs.get(0).get("uncertainty").get("value").asDouble())
        .isCloseTo(0.015, within(1e-9));
    assertThat(inputs.get(1).get("uncertainty").get("value").asDouble())
        .isCloseTo(0.0003 * 10 / Math.sqrt(3), within(1e-9));
    assertThat(CommandRun.run("rig", rig).out()).contains("known to 1.50 %, -0.060 % per kelvin");
    String wild = says.replace("-0.06", "3");
    Ended refused =
        CommandRun.run("rig", file("wild.toml", shipped.replace("[gauge]\n", "[gauge]\n" + wild)));
    assertThat(refused.code()).isEqualTo(2);
    assertThat(refused.err()).contains("'gain_percent_per_kelvin' must lie between -2 and 2");
  }

  /** By hand: gain 0.43 G and seating 0.645 G, beside which the rest is small. */
  @Test
  void budgetIsPrintedWithItsInputsAndWhatToleranceItTells() throws IOException {
    Ended words = CommandRun.on(ledger, "gauge", "budget", "--level", "430 G");
    JsonNode json = CommandRun.on(ledger, "gauge", "budget", "--level", "430 G", "--json").json();

    assertThat(words.code()).isZero();
    assertThat(words.out())
        .contains("JCGM 100", "gain", "seating", "0.430", "0.645", "k = 1.96", "95 %")
        .contains("The tightest tolerance a plan may ask for here");
    double combined = json.get("combined").get("value").asDouble();
    assertThat(combined).isBetween(0.775, 0.9);
    assertThat(json.get("expanded").get("value").asDouble())
        .isCloseTo(1.959964 * combined, within(1e-5));
    assertThat(json.get("budget").get("inputs")).hasSize(6);
    assertThat(words.out()).contains("nominal, not calibrated", "not stated in rig.toml");
  }

  @Test
  void targetToldByAHandGaugeIsRefusedUntilARelationIsOnRecord() throws IOException {
    String order = file("order.csv", ORDER);
    String[] relation = {
      "gauge",
      "relation",
      file("pairs.csv", PAIRS),
      "--gauge",
      "shelf gauge",
      "--size",
      "5.1 x 18 mm"
    };

    Ended before = CommandRun.on(ledger, "batch", order);
    Ended found = CommandRun.on(ledger, relation);
    Ended kept = CommandRun.on(ledger, CommandRun.with(relation, "--keep", "--json"));
    Ended shown = CommandRun.on(ledger, "gauge", "relation");
    Ended after = CommandRun.on(ledger, "batch", order, "--json");

    assertThat(before.code()).isEqualTo(2);
    assertThat(before.err())
        .contains("'shelf gauge'", "is not on record", "lodestep gauge relation --help");
    assertThat(found.code()).as(found.err()).isZero();
    assertThat(found.out()).contains("hand = (1.10", "Not on record; say --keep");
    JsonNode json = kept.json();
    assertThat(json.get("kept").asBoolean()).isTrue();
    double ratio = json.get("relation").get("ratioPartsPerMillion").asDouble() * 1e-6;
    assertThat(ratio).isCloseTo(1.1, within(0.005));
    assertThat(shown.out()).contains("shelf gauge, rod nest", "5 magnets");
    assertThat(after.code()).as(after.err()).isZero();
    // 415 G on the hand gauge is about 377 G in the nest.
    double nest = after.json().get("magnets").get(0).get("fieldMicroTesla").asDouble() * 1e-2;
    assertThat(nest).isCloseTo(415 / ratio, within(12 / ratio));
  }

  @Test
  void chartHasLimitsAfterEightChecksAndNotBefore() throws IOException {
    for (int seed = 1; seed <= 7; seed++) {
      check(seed);
    }
    Ended early = CommandRun.on(ledger, "gauge", "chart");
    check(8);
    Ended chart = CommandRun.on(ledger, "gauge", "chart");
    JsonNode json = CommandRun.on(ledger, "gauge", "chart", "--json").json();

    assertThat(early.out()).contains("No limits yet: they need 8 readings");
    assertThat(chart.code()).isZero();
    assertThat(chart.out()).contains("house rod in the rod nest", "as found", "Centre 38");
    assertThat(chart.out().strip()).endsWith("In control.");
    assertThat(json.get("readings")).hasSize(8);
    assertThat(json.get("inControl").asBoolean()).isTrue();
    assertThat(json.get("lowerTesla").asDouble())
        .isLessThan(json.get("centreTesla").asDouble())
        .isGreaterThan(0.037);
  }

  private void check(int seed) throws IOException {
    Ended ended =
        CommandRun.on(ledger, "gauge", "check", "--seed", Integer.toString(seed), "--json");
    assertThat(ended.code()).as(ended.err()).isZero();
    assertThat(ended.err()).contains("Put the reference house rod in the rod nest");
    JsonNode json = ended.json();
    assertThat(json.get("inControl").asBoolean()).isTrue();
    assertThat(json.get("certificateMicroTesla").asLong()).isEqualTo(38_500);
    assertThat(json.get("fieldMicroTesla").asDouble()).isCloseTo(38_500, within(200.0));
  }

  @Test
  void gaugeOutOfControlAcceptsNothingUntilItIsCheckedAgain() throws IOException {
    String told = ORDER.replace(",told by", "").replace(",shelf gauge", "");
    String[] order = {"batch", file("order.csv", told)};
    judgedOutOfControl();

    Ended refused = CommandRun.on(ledger, order);
    Ended chart = CommandRun.on(ledger, "gauge", "chart");
    check(1);
    Ended again = CommandRun.on(ledger, order);

    assertThat(refused.code()).isEqualTo(2);
    assertThat(refused.err())
        .contains("the gauge in the rod nest is out of control", "it reads 2 G off")
        .contains("check it again: lodestep gauge check --reference \"house rod\"");
    assertThat(chart.code()).isEqualTo(1);
    assertThat(again.code()).as(again.err()).isZero();
  }

  /**
   * Asked for by the winder's own gauge, the magnet is certified and labelled by either, and each
   * says which. The ratio is the pairs': hand 1.1 times nest.
   */
  @Test
  void aMagnetAskedForByTheHandGaugeIsCertifiedByEither() throws Exception {
    String pairs = file("pairs.csv", PAIRS);
    String[] relate = {"gauge", "relation", pairs, "--gauge", "shelf gauge", "--keep", "--size"};
    Ended related = CommandRun.on(ledger, CommandRun.with(relate, "5.1 x 18 mm"));
    assertThat(related.code()).as(related.err()).isZero();
    assertThat(CommandRun.on(ledger, "batch", file("order.csv", ORDER)).code()).isZero();
    Path own = folder.resolve("own.pdf");
    Path hand = folder.resolve("hand.pdf");
    Path labels = folder.resolve("labels.pdf");

    Ended byRig = CommandRun.on(ledger, "certificate", "swift", "--pdf", own.toString());
    String[] told = {"swift", "--told-by", "Shelf gauge", "--pdf"};
    String[] certify = CommandRun.with(new String[] {"certificate"}, told);
    String[] print = CommandRun.with(new String[] {"labels"}, told);
    Ended byHand = CommandRun.on(ledger, CommandRun.with(certify, hand.toString()));
    Ended label = CommandRun.on(ledger, CommandRun.with(print, labels.toString()));
    Ended other = CommandRun.on(ledger, "certificate", "swift", "--told-by", "moon gauge");

    assertThat(byRig.code()).as(byRig.err()).isZero();
    assertThat(byHand.code()).as(byHand.err()).isZero();
    assertThat(label.code()).as(label.err()).isZero();
    String rigs = OutsideReader.text(own).replaceAll("\\s+", " ");
    String hands = OutsideReader.text(hand).replaceAll("\\s+", " ");
    assertThat(rigs)
        .contains("as told by the rig's own gauge")
        .contains("swift was asked for as 415.0 ± 12.0 G by shelf gauge");
    assertThat(hands)
        .contains("as told by shelf gauge", "415.0 ± 12.0", "hand = (1.")
        .doesNotContain("was asked for as");
    double ratio = level(hands) / level(rigs);
    assertThat(ratio).isCloseTo(1.1, within(0.01));
    assertThat(OutsideReader.text(labels)).contains("by shelf gauge");
    String number = byHand.out().replaceAll("(?s)^Certificate (\\d+) .*", "$1");
    Path again = folder.resolve("again.pdf");
    Ended once = CommandRun.on(ledger, "certificate", "--again", number, "--pdf", again.toString());
    assertThat(once.out()).contains("word for word");
    assertThat(OutsideReader.text(again)).contains("415.0 ± 12.0", "word for word");
    isRefused(other, "how 'moon gauge' relates to the rod nest", "lodestep gauge relation");
  }

  /** The reading that stands before its uncertainty in a certificate's line. */
  private static double level(String text) {
    Matcher line = Pattern.compile("(\\d+\\.\\d) ± \\d+\\.\\d north").matcher(text);
    assertThat(line.find()).as(text).isTrue();
    return Double.parseDouble(line.group(1));
  }

  private void judgedOutOfControl() {
    Wiring wiring = new Wiring(Outside.unattended());
    RigConfig rig = wiring.rig(Optional.empty());
    new HeadDesk(new SystemMonotonicClock(), new SystemWallClock(), Outside.unattended())
        .keep(
            rig,
            ledger,
            wiring.program(rig, "", Calibrated.nominally(rig)),
            List.of(new GaugeJudged("house rod", "rod nest", 1, false, "it reads 2 G off")),
            "");
  }

  @Test
  void matchPutsAcceptedMagnetsToPositions() throws IOException {
    String order =
        file(
            "made.csv",
            """
            name,alloy,shape,size,pole up,target,tolerance
            high,alnico 3,rod,5.1 x 18 mm,north,415 G,8 G
            low,alnico 3,rod,5.1 x 18 mm,north,360 G,8 G
            """);
    String sets =
        file(
            "sets.csv",
            """
            name,set,alloy,shape,size,pole up,target,tolerance
            first,neck,alnico 3,rod,5.1 x 18 mm,north,360 G,14 G
            second,neck,alnico 3,rod,5.1 x 18 mm,north,415 G,14 G
            third,bridge,alnico 3,rod,5.1 x 18 mm,north,415 G,14 G
            """);
    assertThat(CommandRun.on(ledger, "batch", order).code()).isZero();

    Ended words = CommandRun.on(ledger, "match", sets);
    JsonNode json = CommandRun.on(ledger, "match", sets, "--json").json();
    Ended fewer = CommandRun.on(ledger, "match", sets, "--without", "low");

    assertThat(words.code()).isEqualTo(1);
    assertThat(words.out()).contains("fits", "No magnet of the kind is left for 1");
    assertThat(json.get("complete").asBoolean()).isFalse();
    assertThat(json.get("places").get(0).get("name").asText()).isEqualTo("low");
    assertThat(json.get("places").get(0).get("toDo").asText()).isEqualTo("fits");
    assertThat(json.get("sets")).hasSize(2);
    assertThat(fewer.out()).contains("No magnet of the kind is left for 2");
  }

  @Test
  void badInputIsRefusedInOneSentence() throws IOException {
    isRefused(CommandRun.run("gauge", "study", folder + "/none.csv"), "cannot read");
    isRefused(
        CommandRun.run("gauge", "study", file("heading.csv", "magnet,redaing\na,1 G\n")),
        "'redaing' is no column here",
        "did you mean 'reading'?");
    isRefused(
        CommandRun.run("gauge", "study", file("word.csv", PLACED.replace("402.9", "strong"))),
        "line 4");
    isRefused(
        CommandRun.run(
            "gauge", "study", file("uneven.csv", "magnet,person,reading\na,x,1 G\nb,x,2 G\n")),
        "at least twice");
    isRefused(CommandRun.run("gauge", "study", crossed(), "--tolerance", "0 G"), "above zero");
    isRefused(CommandRun.on(ledger, "gauge", "budget", "--level", "much"), "--level: ");
    isRefused(
        CommandRun.on(ledger, "gauge", "budget", "--level", "430 G", "--probability", "100"),
        "between 0 and 1");
    isRefused(
        CommandRun.on(ledger, "gauge", "budget", "--level", "430 G", "--nest", "hole"), "hole");
    isRefused(
        CommandRun.on(ledger, "gauge", "relation", file("pairs.csv", PAIRS)), "--gauge", "--size");
    isRefused(
        CommandRun.on(ledger, "gauge", "check", "--reference", "moon"),
        "there is no 'moon'",
        "house rod");
    isRefused(CommandRun.on(ledger, "gauge", "chart", "--reference", "moon"), "house rod");
    isRefused(CommandRun.on(ledger, "match", file("sets.csv", ORDER)), "shelf gauge");
    assertThat(ledger).doesNotExist();
  }
}
