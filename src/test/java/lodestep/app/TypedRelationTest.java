package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a winder tells levels by the own hand gauge, once its readings were typed. */
class TypedRelationTest {

  private static final String[] RELATION = {
    "gauge", "relation", "--from-ledger", "--gauge", "shelf gauge"
  };

  private static final String FIVE =
      """
      name,alloy,shape,size,pole up,target,tolerance
      a,alnico 3,rod,5.1 x 18 mm,north,300 G,9 G
      b,alnico 3,rod,5.1 x 18 mm,north,340 G,9 G
      c,alnico 3,rod,5.1 x 18 mm,north,380 G,9 G
      d,alnico 3,rod,5.1 x 18 mm,north,420 G,9 G
      e,alnico 3,rod,5.1 x 18 mm,north,455 G,9 G
      """;

  private static final String[] DIAL_TOLD = {
    "dial",
    "--alloy",
    "alnico 3",
    "--size",
    "5.1 x 18 mm",
    "--pole-up",
    "north",
    "--target",
    "415 G",
    "--tolerance",
    "12 G",
    "--told-by",
    "shelf gauge"
  };

  private final Path folder;
  private final Path ledger;

  TypedRelationTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("typed.ledger");
  }

  private String file(String name, String text) throws IOException {
    return Files.writeString(folder.resolve(name), text).toString();
  }

  private static void isRefused(Ended ended, String... words) {
    assertThat(ended.code()).as(ended.out() + ended.err()).isEqualTo(2);
    assertThat(ended.err()).startsWith("lodestep: ").contains(words);
  }

  /** Five magnets, each typed at 1.1 times what the nest reads, to a gauss. */
  private void typed() throws IOException {
    Ended batch = CommandRun.on(ledger, "batch", file("five.csv", FIVE), "--json");
    for (JsonNode magnet : batch.json().get("magnets")) {
      long hand = Math.round(1.1 * magnet.get("fieldMicroTesla").asDouble() * 1e-2);
      Ended typed = CommandRun.on(ledger, "gauge", "typed", magnet.get("name").asText(), by(hand));
      assertThat(typed.code()).as(typed.err()).isZero();
    }
  }

  private static String by(long gauss) {
    return gauss + " G north by shelf gauge";
  }

  @Test
  void relationIsFoundFromReadingsThatWereTyped() throws IOException {
    typed();
    CommandRun.on(ledger, "gauge", "typed", "a", "290 G south by shelf gauge");
    Ended before = CommandRun.on(ledger, DIAL_TOLD);
    Ended found = CommandRun.on(ledger, CommandRun.with(RELATION, "--keep"));

    assertThat(before.code()).isEqualTo(2);
    assertThat(before.err()).contains("--told-by: how 'shelf gauge' relates", "is not on record");
    assertThat(found.code()).as(found.err()).isZero();
    assertThat(found.out())
        .contains("rod 5.10 x 18.00 mm in the rod nest", "On record.")
        .contains("left out: a, 290 G south", "its pole is not the one the rig read");
    assertThat(relationOf(found.out())).isCloseTo(1.1, within(0.003));
  }

  @Test
  void dialAndHandTakeALevelToldByTheGauge() throws IOException {
    typed();
    double ratio = relationOf(CommandRun.on(ledger, CommandRun.with(RELATION, "--keep")).out());
    Ended words = CommandRun.on(ledger, DIAL_TOLD);
    JsonNode magnet =
        CommandRun.on(ledger, CommandRun.with(DIAL_TOLD, "--json")).json().get("magnets").get(0);
    String[] byHand = DIAL_TOLD.clone();
    byHand[0] = "hand";
    Ended hand = CommandRun.on(ledger, byHand);
    Ended explained = CommandRun.on(ledger, "explain", "one");

    assertThat(words.code()).as(words.err()).isZero();
    assertThat(words.out())
        .contains("415.0 G ± 12.0 G by shelf gauge is ", "shelf gauge is to read 4");
    assertThat(magnet.get("toldBy").asText()).isEqualTo("shelf gauge");
    assertThat(magnet.get("toldTarget").asText()).isEqualTo("415.0 G");
    assertThat(magnet.get("fieldMicroTesla").asDouble() * 1e-2)
        .isCloseTo(415 / ratio, within(12 / ratio));
    assertThat(magnet.get("toldFieldMicroTesla").asDouble() * 1e-2).isCloseTo(415, within(12.0));
    assertThat(hand.code()).as(hand.err()).isZero();
    assertThat(hand.out()).contains("415.0 G ± 12.0 G by shelf gauge is ");
    assertThat(explained.code()).as(explained.err()).isZero();
    assertThat(explained.out()).contains("415.0 G ± 12.0 G by shelf gauge was wanted; as the nest");
    Ended byHandExplained = CommandRun.on(ledger, "explain", "one-3");
    assertThat(byHandExplained.out())
        .contains("415.0 G ± 12.0 G by shelf gauge was wanted", "It was worked by hand")
        .contains("by hand, charge, north", "asked: closer until", "It ended accepted");
    assertThat(CommandRun.on(ledger, "gauge", "relation").out())
        .contains("rod 5.10 x 18.00 mm, 5 magnets");
  }

  private static double relationOf(String out) {
    int at = out.indexOf("hand = (") + "hand = (".length();
    return Double.parseDouble(out.substring(at, at + 6));
  }

  @Test
  void relationFromTheLedgerIsRefusedWhereNothingWasTyped() {
    String[] relation = {"gauge", "relation", "--from-ledger"};
    isRefused(CommandRun.on(ledger, relation), "--gauge");
    assertThat(CommandRun.on(ledger, CommandRun.ONE).code()).isZero();
    isRefused(
        CommandRun.on(ledger, CommandRun.with(relation, "--gauge", "moon")),
        "no reading of 'moon' was typed",
        "lodestep gauge typed");
    CommandRun.on(ledger, "gauge", "typed", "one", "470 G south by shelf gauge");
    isRefused(
        CommandRun.on(ledger, CommandRun.with(relation, "--gauge", "moon")),
        "typed were those of: shelf gauge");
    isRefused(
        CommandRun.on(
            ledger, CommandRun.with(relation, "--gauge", "shelf gauge", "--size", "5 x 18 mm")),
        "no magnet of this shape");
    Ended few = CommandRun.on(ledger, CommandRun.with(relation, "--gauge", "shelf gauge"));
    assertThat(few.code()).isEqualTo(1);
    assertThat(few.err()).contains("No relation: 1 magnet was read by both gauges");
    isRefused(CommandRun.on(ledger, "gauge", "typed", "one", "much"), "much");
    isRefused(CommandRun.on(ledger, "gauge", "typed", "moon", "4 G by x"), "no magnet 'moon'");
  }
}
