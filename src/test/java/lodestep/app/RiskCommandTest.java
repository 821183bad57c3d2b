package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.SplittableRandom;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a winder sees what a guard band costs and what it saves. */
class RiskCommandTest {

  private static final String[] RISK = {
    "gauge", "risk", "--level", "430 G", "--tolerance", "8 G", "--spread", "4 G", "--mean", "1 G"
  };

  private static final int DRAWS = 400_000;

  private final Path ledger;

  RiskCommandTest(@TempDir Path folder) {
    this.ledger = folder.resolve("risk.ledger");
  }

  /** Against a simulation of the same magnets and readings, which knows no integral. */
  @Test
  void risksAreThoseOfASimulation() throws IOException {
    JsonNode json = CommandRun.on(ledger, CommandRun.with(RISK, "--json")).json();
    double u = json.get("uncertaintyGauss").asDouble();

    assertThat(u).isBetween(0.775, 0.9);
    assertThat(json.get("guardBands")).hasSize(4);
    for (JsonNode band : json.get("guardBands")) {
      double guard = band.get("guardGauss").asDouble();
      assertThat(guard).isCloseTo(2 * u * band.get("factor").asDouble(), within(1e-9));
      SplittableRandom random = new SplittableRandom(20311126);
      int wronglyAccepted = 0;
      int wronglyRefused = 0;
      for (int i = 0; i < DRAWS; i++) {
        double magnet = 1 + 4 * random.nextGaussian();
        boolean inside = Math.abs(magnet) <= 8;
        boolean accepted = Math.abs(magnet + u * random.nextGaussian()) <= 8 - guard;
        wronglyAccepted += accepted && !inside ? 1 : 0;
        wronglyRefused += inside && !accepted ? 1 : 0;
      }
      isDrawn(band.get("consumer").asDouble(), wronglyAccepted);
      isDrawn(band.get("producer").asDouble(), wronglyRefused);
    }
  }

  /** Within five standard deviations of a count. */
  private static void isDrawn(double risk, int count) {
    assertThat((double) count).isCloseTo(risk * DRAWS, within(5 * Math.sqrt(risk * DRAWS) + 1));
  }

  @Test
  void tableSaysWhatTheRigDoesAndWhatItCannotTell() {
    Ended words = CommandRun.on(ledger, CommandRun.with(RISK, "--guard", "0.8"));
    Ended tight =
        CommandRun.on(
            ledger, "gauge", "risk", "--level", "430 G", "--tolerance", "1 G", "--spread", "4 G");

    assertThat(words.code()).as(words.err()).isZero();
    assertThat(words.out())
        .contains(
            "430.0 G ± 8.0 G in the rod nest", "JCGM 106", "The rig accepts with r = 1: it narrows")
        .contains("seating counted", "accepts within 6.44 G here, guard band 1.56 G")
        .contains("outside and accepted/%", "0.80");
    assertThat(tight.out()).contains("nothing", "tighter than the gauge can tell");
  }

  @Test
  void noInfinityStandsInJson() throws IOException {
    Ended budget = CommandRun.on(ledger, "gauge", "budget", "--level", "430 G", "--json");

    assertThat(budget.out()).doesNotContain("Infinity").doesNotContain("NaN");
    JsonNode gain = budget.json().get("budget").get("inputs").get(0).get("uncertainty");
    assertThat(gain.get("degreesOfFreedom").isNull()).isTrue();
    assertThat(gain.get("degreesOfFreedomWhy").asText()).startsWith("infinite");
  }

  @Test
  void badFiguresAreRefused() {
    isRefused("--spread: it must be above zero", "--spread", "0 G");
    isRefused("--tolerance: it must be above zero", "--tolerance", "0 G");
    isRefused("between 0 and 3", "--spread", "4 G", "--guard", "4");
    assertThat(ledger).doesNotExist();
  }

  private void isRefused(String why, String... more) {
    String[] base = {"gauge", "risk", "--level", "430 G"};
    String[] with = CommandRun.with(base, more);
    with = more[0].equals("--tolerance") ? CommandRun.with(with, "--spread", "4 G") : with;
    with = more[0].equals("--tolerance") ? with : CommandRun.with(with, "--tolerance", "8 G");
    Ended ended = CommandRun.on(ledger, with);
    assertThat(ended.code()).as(ended.out()).isEqualTo(2);
    assertThat(ended.err()).contains(why);
  }
}
