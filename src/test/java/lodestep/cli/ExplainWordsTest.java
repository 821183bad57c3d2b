package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.ShownCurve;
import lodestep.dial.Explained;
import lodestep.dial.MagnetCurve;
import lodestep.dial.Progress.Point;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.Plot;
import lodestep.port.StockEvent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: any magnet is explained by what there is of it, and why there is no more. */
class ExplainWordsTest {

  private final List<What> whats = new ArrayList<>();

  private void started(String planner) {
    whats.add(new What.Started(new LedgerEvent.MagnetStarted(6, 1, "rod nest", planner)));
  }

  private void read(String stage, long microTesla) {
    whats.add(
        new What.Reading(
            new LedgerEvent.ReadingTaken(
                6, stage, microTesla, 40_000, 40, 2_150, "rod nest", 1_500, 4, 3)));
  }

  private void fired(String purpose, boolean north, long field, String stage, long microTesla) {
    ActEvent.PulseIntended intent =
        new ActEvent.PulseIntended(
            6, 1, 1, purpose, north, false, 30_000, 30_100, field, 10_000, "rod coil");
    ActEvent.PulseEnded end =
        new ActEvent.PulseEnded(
            11,
            6,
            "delivered",
            3,
            7,
            30_000,
            20_000,
            north ? 10_000 : 0,
            north ? 0 : 10_000,
            900,
            2_150,
            "");
    whats.add(new What.Acted(intent, Optional.of(end)));
    read(stage, microTesla);
  }

  private void byHand(String act, boolean north, long before, long after, String asked) {
    whats.add(
        new What.ByHand(
            new LedgerEvent.ActByHand(6, 1, 1, act, north, asked, before, after, 3_000)));
    read(act, after);
  }

  private void ended(String verdict, String why) {
    whats.add(
        new What.Verdict(
            new LedgerEvent.VerdictGiven(
                6, 1, verdict, 36_000, 40_000, 36_000, 900, 80_000, 1, 2, 0, why)));
  }

  private MagnetHistory history(String task) {
    List<Happening> happenings = new ArrayList<>();
    for (What what : whats) {
      long number = 10L + happenings.size();
      happenings.add(new Happening(number, Instant.EPOCH, 1, what));
    }
    LedgerEvent.MagnetNamed named =
        new LedgerEvent.MagnetNamed(
            5,
            "heron-2",
            2,
            1,
            "",
            "",
            "alnico 4",
            "rod",
            List.of(4_700L, 15_000L),
            "rod nest",
            "north",
            task,
            task.equals("level") ? 36_000 : 0,
            0,
            task.equals("down-by") ? 120_000 : 0,
            task.equals("level") ? 900 : 0,
            task.equals("down-by") ? 20_000 : 0,
            task.equals("demagnetise") ? 500 : 0);
    return new MagnetHistory(6, named, Instant.EPOCH, happenings);
  }

  private ExplainWords unexpected(String task) {
    MagnetHistory history = history(task);
    return new ExplainWords(history, Optional.empty(), ExplainWords.noCurve(history), List.of());
  }

  private static String said(ExplainWords words) {
    return String.join(" ", words.lines()).replaceAll(" +", " ");
  }

  /** A magnet that was charged to 460 G and came down in two pulses; its third pulse is a proof. */
  private ExplainWords expected(String planner, boolean alloyKnown) {
    started(planner);
    read("as found", 0);
    fired("charge", true, 600_000, "charged", 46_000);
    fired("knock down", false, 25_000, "knocked down", 38_900);
    fired("knock down", false, 30_000, "knocked down", 36_100);
    fired("proof", false, 25_500, "proof", 36_100);
    ended("accepted", "inside the tolerance");
    MagnetCurve curve =
        new MagnetCurve(
            List.of(
                List.of(
                    new Point(0, 0.046), new Point(25_000, 0.0389), new Point(30_000, 0.0361))));
    Explained explained =
        new Explained(
            0,
            List.of(step(25_000, 0.0385, 0.0389, 30_500), step(30_000, 0.0363, 0.0361, 30_200)),
            List.of(fieldFor(0.036, 30_500)),
            List.of(fieldFor(0.036, 30_200)));
    ShownCurve shown = new ShownCurve("alnico 4, rod 4.70 x 15.00 mm, rod nest", 6, 1, curve);
    return new ExplainWords(
        history("level"),
        Optional.of(new ExplainWords.Expected(shown, explained, alloyKnown)),
        "",
        List.of());
  }

  private static Explained.Step step(double field, double expected, double read, double target) {
    return new Explained.Step(
        1,
        new FieldStrength(field),
        new FluxDensity(expected),
        new FluxDensity(0.001),
        new FluxDensity(read),
        fieldFor(0.036, target));
  }

  private static Explained.FieldFor fieldFor(double level, double field) {
    return new Explained.FieldFor(
        new FluxDensity(level),
        new FieldStrength(0.9 * field),
        new FieldStrength(field),
        new FieldStrength(1.1 * field));
  }

  @Test
  void chargeAndProofStandAmongWhatWasExpected() {
    ExplainWords words = expected("expected curve", true);

    assertThat(said(words))
        .contains("Wanted: 360.0 G ± 9.0 G.", "by its alloy and shape alone")
        .contains("the largest whose chance of landing below")
        .contains("charge, north 600.0 kA/m 0.0 G 460.0 G")
        .contains("knock down, south 25.0 kA/m 460.0 G 385.0 G ± 20.0 G 389.0 G 30.50 (27.45")
        .contains("proof, south 25.5 kA/m 361.0 G 361.0 G")
        .contains("It ended accepted: inside the tolerance. The tolerance was narrowed by a")
        .contains("guard band of 0.8 G on either side");
    assertThat(words.document().get("acts")).hasSize(5);
    assertThat(words.document().get("steps")).hasSize(2);
    assertThat(words.plot().orElseThrow().curves()).hasSize(5);
  }

  @Test
  void smallStepsAreToldAsWhatTheyAre() {
    assertThat(said(expected("small steps", true)))
        .contains("by equal small steps", "had no part in choosing them")
        .doesNotContain("the largest whose chance");
  }

  @Test
  void unknownAlloyIsNotSaidToHaveBeenKnown() {
    assertThat(said(expected("expected curve", false)))
        .contains("nobody knowing its alloy")
        .doesNotContain("by its alloy");
  }

  @Test
  void levelToldByAHandGaugeIsToldByIt() {
    whats.add(
        new What.Corrected(
            new StockEvent.TargetTold(6, "shelf gauge", 40_000, 1_200, 1_111_000, 3_000)));

    assertThat(said(expected("expected curve", true)))
        .contains(
            "400.0 G ± 12.0 G by shelf gauge was wanted; as the nest reads it, that is 360.0");
  }

  @Test
  void workByHandIsToldActByAct() {
    started("by hand");
    read("as found", 33_000);
    byHand("charge", true, 33_000, 47_000, "charge between the jaws");
    byHand("knock down", false, 47_000, 36_100, "closer until the reading is pulled down by 90 G");
    ended("accepted", "inside the tolerance and held by the proof, a weaker approach");

    ExplainWords words = unexpected("level");
    assertThat(said(words))
        .contains("It was worked by hand", "No opposing field was measured")
        .contains("as found 330.0 G")
        .contains("by hand, charge, north 330.0 G 470.0 G asked: charge between the jaws")
        .contains("by hand, knock down, south 470.0 G 361.0 G")
        .contains("It ended accepted: inside the tolerance and held by the proof");
    Plot plot = words.plot().orElseThrow();
    assertThat(plot.curves().get(0).y()).containsExactly(330.0, 470.0, 361.0);
    assertThat(plot.across()).isEqualTo("acts, in their order");
  }

  @ParameterizedTest
  @CsvSource({
    "demagnetise, aimed at leaving nothing",
    "full-charge, A full charge was asked for",
    "down-by, Without a charge its past is not known",
    "level, No attempt has charged it"
  })
  void whyNothingWasExpectedIsSaid(String task, String why) {
    started("expected curve");
    read("as found", 47_000);

    ExplainWords words = unexpected(task);
    ObjectNode node = words.document();
    assertThat(said(words)).contains(why, "as found", "Its newest attempt has no verdict yet.");
    assertThat(node.get("nothingExpectedWhy").asText()).contains(why);
    assertThat(node.has("steps")).isFalse();
  }

  @Test
  void knockDownsFromWhatItReadAreDrawnOverTheirFields() {
    started("expected curve");
    read("as found", 47_000);
    fired("knock down", false, 9_000, "knocked down", 44_500);
    fired("knock down", false, 16_000, "knocked down", 42_000);
    fired("proof", false, 13_600, "proof", 42_000);

    Plot plot = unexpected("down-by").plot().orElseThrow();

    assertThat(plot.across()).contains("kA/m");
    assertThat(plot.curves().get(0).x()).containsExactly(0.0, 9.0, 16.0);
    assertThat(plot.curves().get(0).y().stream().map(Math::round))
        .containsExactly(470L, 445L, 420L);
  }

  @Test
  void magnetThatWasNeverReadHasNoPlot() {
    assertThat(unexpected("level").plot()).isEmpty();
    assertThat(said(unexpected("level"))).contains("It was never started.");
  }
}
