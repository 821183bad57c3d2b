package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: a magnet is charged and knocked down by hand from the page, by the same guided work as by
 * command, in the loop of the rig that runs.
 */
class PageByHandTest extends PageAtRig {

  private static final double GAUSS = 1e-4;

  private long pressedAt;

  PageByHandTest(@TempDir Path folder) {
    super(folder, "hand.ledger");
  }

  private JsonNode begun(String name, String target, String tolerance, String count)
      throws IOException {
    ObjectNode body = PageDevice.object();
    body.putArray("rows")
        .addObject()
        .put("name", name)
        .put("alloy", "alnico 2")
        .put("shape", "rod")
        .put("size", "4.8 x 16.8 mm")
        .put("poleUp", "south")
        .put("target", target)
        .put("tolerance", tolerance)
        .put("count", count);
    return act("/by-hand", body);
  }

  private JsonNode hand() throws IOException {
    return page.get("/api/v1/bench").json().path("hand");
  }

  /** Presses for what is asked each time, to the end; what was asked. */
  private Set<String> workedToTheEnd() throws IOException {
    Set<String> asked = new HashSet<>();
    await(
        "the verdict",
        now -> {
          asked.add(now.path("ask").asText());
          return phase(now).equals("done") || pressed(now);
        });
    return asked;
  }

  /** Presses once for each thing that is asked; each new sentence is another state. */
  private boolean pressed(JsonNode now) {
    long version = now.path("version").asLong();
    if (phase(now).equals("guided") && version != pressedAt) {
      pressedAt = version;
      try {
        act("/hands", PageDevice.object().put("act", "as-asked"));
      } catch (IOException gone) {
        throw new UncheckedIOException(gone);
      }
    }
    return false;
  }

  @Test
  void guidesAMagnetByHandToItsVerdict() throws IOException {
    JsonNode said = begun("siskin", "340 G", "14 G", "1");
    assertThat(said.path("done").asBoolean()).as(said.toString()).isTrue();
    await("the zero is asked for", now -> now.path("ask").asText().equals("leave_empty"));
    assertThat(now().path("sentence").asText()).doesNotContain("Enter");

    Set<String> asked = workedToTheEnd();

    assertThat(asked).contains("leave_empty", "seat", "charge_south", "closer", "wait");
    JsonNode hand = hand();
    assertThat(hand.path("verdict").asText()).as(hand.toString()).isEqualTo("accepted");
    assertThat(hand.path("settledTesla").asDouble()).isCloseTo(-340 * GAUSS, within(14 * GAUSS));
    assertThat(hand.path("targetTesla").asDouble()).isCloseTo(-340 * GAUSS, within(1e-9));
    assertThat(hand.path("levels")).isNotEmpty();
    assertThat(CommandRun.on(ledger, "history", "siskin").out())
        .contains("by hand", "accepted", "charge between the jaws");
  }

  /** What is full only comes down: an approach is told by its part, and nothing is driven. */
  @Test
  void tellsHowMuchOfAnApproachIsDoneAndLetsItBeEnded() throws IOException {
    begun("siskin", "300 G", "14 G", "1");
    await("an approach", now -> now.path("hand").path("done").asDouble() > 0.1 || pressed(now));
    JsonNode now = now();
    assertThat(now.path("guides").asText()).isEqualTo("hand");
    assertThat(now.path("lamps")).as("nothing is driven").isEmpty();

    act("/commands", PageDevice.object().put("what", "finish"));
    await("it is over", seen -> phase(seen).equals("done"));

    assertThat(hand().path("verdict").asText()).isEqualTo("open");
  }

  @Test
  void takesAnotherNameWhereOneIsOnRecordAndOneMagnetAtATime() throws IOException {
    assertThat(begun("siskin", "340 G", "14 G", "3").path("sentence").asText())
        .contains("one magnet is worked at a time");
    assertThat(begun("siskin", "wide", "14 G", "1").path("done").asBoolean()).isFalse();
    assertThat(phase(now())).isEqualTo("idle");

    begun("siskin", "340 G", "14 G", "1");
    await("named", now -> now.path("ask").asText().equals("leave_empty"));
    assertThat(begun("siskin", "340 G", "14 G", "1").path("done").asBoolean())
        .as("while another one is at work")
        .isFalse();
    act("/commands", PageDevice.object().put("what", "finish"));
    await("over", now -> phase(now).equals("done"));
    begun("siskin", "340 G", "14 G", "1");
    await("named anew", now -> now.path("ask").asText().equals("leave_empty"));

    assertThat(hand().path("name").asText()).isEqualTo("siskin-2");
  }

  /** What such a magnet reads fully charged helps to choose a level. */
  @Test
  void saysWhatAMagnetCanDoBeforeALevelIsChosen() throws IOException {
    ObjectNode plan = object();
    plan.putArray("rows")
        .addObject()
        .put("name", "siskin")
        .put("alloy", "alnico 2")
        .put("shape", "rod")
        .put("size", "4.8 x 16.8 mm")
        .put("poleUp", "south")
        .put("count", "1");

    JsonNode told = page.post("/api/v1/plans/check", plan).json();

    assertThat(told.path("errors")).isNotEmpty();
    assertThat(told.path("rows").path(0).asText())
        .startsWith("siskin: fully charged, such a magnet reads about ");
  }

  @Test
  void doesNothingByHandUnderAClosedLid() throws IOException {
    begun("siskin", "340 G", "14 G", "1");
    act("/hands", PageDevice.object().put("act", "close-lid"));
    await("shut", now -> now.path("inputs").path("lid").asBoolean());

    assertThat(act("/hands", PageDevice.object().put("act", "as-asked")).path("sentence").asText())
        .isEqualTo("open the lid first");
  }
}
