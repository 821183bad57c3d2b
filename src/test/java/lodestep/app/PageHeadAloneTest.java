package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.Optional;
import lodestep.config.RigConfig;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: a rig that is a head alone serves the page: live reading, check, work by hand, stop,
 * record; what needs a drive is refused in one sentence. Method: the shipped virtual head.
 */
class PageHeadAloneTest extends PageAtRig {

  private static final double GAUSS = 1e-4;

  private long pressedAt;

  PageHeadAloneTest(@TempDir Path folder) {
    super(folder, "head.ledger");
  }

  @Override
  RigConfig rig(Wiring wiring) {
    Path repository = Path.of(System.getProperty("lodestep.repository"));
    return wiring.rig(Optional.of(repository.resolve("firmware-host/board/rig-virtual-head.toml")));
  }

  private static ObjectNode siskin(String target) {
    ObjectNode body = object();
    body.putArray("rows")
        .addObject()
        .put("name", "siskin")
        .put("alloy", "alnico 2")
        .put("shape", "rod")
        .put("size", "4.8 x 16.8 mm")
        .put("poleUp", "south")
        .put("target", target)
        .put("tolerance", "14 G")
        .put("count", "1");
    return body;
  }

  /** Presses once for each thing that is asked; each new sentence is another state. */
  private boolean pressed(JsonNode now) {
    long version = now.path("version").asLong();
    if (phase(now).equals("guided") && version != pressedAt) {
      pressedAt = version;
      try {
        act("/hands", object().put("act", "as-asked"));
      } catch (IOException gone) {
        throw new UncheckedIOException(gone);
      }
    }
    return false;
  }

  @Test
  void guidesAMagnetByHandToItsVerdict() throws IOException {
    JsonNode said = act("/by-hand", siskin("340 G"));
    assertThat(said.path("done").asBoolean()).as(said.toString()).isTrue();

    await("the verdict", now -> phase(now).equals("done") || pressed(now));

    JsonNode hand = get("/bench").path("hand");
    assertThat(hand.path("verdict").asText()).as(hand.toString()).isEqualTo("accepted");
    assertThat(hand.path("settledTesla").asDouble()).isCloseTo(-340 * GAUSS, within(14 * GAUSS));
    assertThat(CommandRun.on(ledger, "history", "siskin").out()).contains("by hand", "accepted");
  }

  /** There is no trip to come of it: whatever is under way ends, and the next may begin. */
  @Test
  void endsWhatIsUnderWayWhenAStopIsAsked() throws IOException {
    act("/by-hand", siskin("300 G"));
    await("an approach", now -> now.path("hand").path("done").asDouble() > 0.1 || pressed(now));

    assertThat(page.post("/api/v1/stop", object()).status()).isEqualTo(200);
    await("it is over", now -> phase(now).equals("done"));

    assertThat(get("/bench").path("hand").path("verdict").asText()).isEqualTo("open");
    assertThat(get("/bench").has("trip")).isFalse();
    assertThat(
            act("/gauge/checks", object().put("reference", "shelf rod")).path("done").asBoolean())
        .isTrue();
  }

  @Test
  void checksTheGaugeByAReference() throws IOException {
    act("/gauge/checks", object().put("reference", "shelf rod"));
    await("the zero is asked for", now -> now.path("ask").asText().equals("leave_empty"));
    done();
    await("the reference is asked for", now -> now.path("ask").asText().equals("seat"));
    seated("put-in", true);
    done();
    await("it is judged", now -> phase(now).equals("done"));

    JsonNode reference = get("/gauge/record").path("references").get(0);
    assertThat(reference.path("inControl").asBoolean()).as(reference.toString()).isTrue();
  }

  /** With nothing under way the virtual nest has a magnet to try the reading with. */
  private void readsADrawnMagnet() throws IOException {
    act("/gauge", object().put("act", "reset"));
    seated("put-in", true);
    await("its field", now -> Math.abs(now.at("/reading/tesla").asDouble()) > 50 * GAUSS);
    seated("take-out", false);
    await("none", now -> Math.abs(now.at("/reading/tesla").asDouble()) < 2 * GAUSS);

    JsonNode seen = now().path("reading");
    assertThat(seen.path("largest").asDouble() - seen.path("smallest").asDouble())
        .isGreaterThan(50 * GAUSS);
    assertThat(get("/things?find=").path("magnets")).as("on record").isEmpty();
  }

  @Test
  void readsLiveAndTakesItsZero() throws IOException {
    assertThat(now().path("reading").path("zeroed").asBoolean()).isFalse();
    JsonNode asked = act("/gauge", object().put("act", "zero"));
    assertThat(asked.path("done").asBoolean()).as(asked.toString()).isTrue();
    await(
        "a reading by the zero",
        now -> now.path("reading").path("zeroed").asBoolean() && now.path("reading").has("tesla"));

    assertThat(now().path("reading").path("tesla").asDouble()).isCloseTo(0, within(2 * GAUSS));
    act("/gauge", object().put("act", "hold"));
    await("held", now -> now.path("reading").has("held"));
    readsADrawnMagnet();
  }

  @Test
  void putsEntriesOfAPersonOnRecord() throws IOException {
    JsonNode said =
        act("/lots", object().put("lot", "M-7").put("quantity", "40").put("alloy", "alnico 5"));

    assertThat(said.path("done").asBoolean()).as(said.toString()).isTrue();
    assertThat(CommandRun.on(ledger, "lot", "show", "M-7").out()).contains("40 magnets came in");
  }

  @Test
  void refusesWhatItHasNoDriveFor() throws IOException {
    assertThat(get("/rig").path("drives").asBoolean()).isFalse();
    assertThat(get("/rig").has("contacts")).isFalse();
    assertThat(get("/rig").has("bank")).isFalse();
    assertThat(get("/bench").path("interlocks")).isEmpty();
    assertThat(get("/bench").path("unmet")).isEmpty();
    ObjectNode checked = object();
    checked.set("rows", siskin("340 G").path("rows"));
    JsonNode plan = page.post("/api/v1/plans/check", checked).json();
    assertThat(plan.path("errors")).as(plan.toString()).isEmpty();
    assertThat(act("/batches", siskin("340 G")).path("sentence").asText())
        .contains("is a head alone and drives nothing");
    act("/lots", object().put("lot", "M-7").put("quantity", "40").put("alloy", "alnico 5"));
    assertThat(
            act(
                    "/lots/samples",
                    object()
                        .put("lot", "M-7")
                        .put("count", "2")
                        .put("shape", "rod")
                        .put("size", "4.8 x 16.8 mm")
                        .put("poleUp", "north"))
                .path("sentence")
                .asText())
        .contains("is a head alone and drives nothing");
    assertThat(phase(now())).isEqualTo("idle");
  }
}
