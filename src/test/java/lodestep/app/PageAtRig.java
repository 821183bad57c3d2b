package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Predicate;
import lodestep.adapter.serial.Polling;
import lodestep.config.RigConfig;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;

/**
 * A test at a virtual rig that runs with its page in this process, by a device that is paired with
 * it. Each look at a batch tells how long it takes still. At its end the record is whole, and each
 * sentence that led the page has its form in the bundle of words, so that a translator can replace
 * it.
 */
abstract class PageAtRig {

  static final double QUICK = 20;

  /** While a batch waits for a magnet or works one, how long it takes still is told. */
  private static final Set<String> IN_A_BATCH = Set.of("zero", "load", "work", "hands", "paused");

  final Path folder;
  final Path ledger;
  Served served;
  PageDevice page;
  private final Set<String> said = new TreeSet<>();

  PageAtRig(Path folder, String name) {
    this.folder = folder;
    this.ledger = folder.resolve(name);
  }

  /** The rig that is served. */
  RigConfig rig(Wiring wiring) {
    return wiring.rig(Optional.empty());
  }

  /** What is on record before it is served. */
  void putOnRecord() throws IOException {
    // Nothing.
  }

  @BeforeEach
  void serve() throws IOException {
    if (served == null) {
      putOnRecord();
    }
    served = ServedRig.at(ledger, QUICK, rig(new Wiring(Outside.unattended())));
    page = PageDevice.paired(served.port(), served.access().prepareCode());
    await("idle", now -> phase(now).equals("idle"));
  }

  @AfterEach
  void close() {
    served.close();
    assertThat(CommandRun.on(ledger, "prove").code()).as("the record is whole").isZero();
    SaidForms forms = SaidForms.ofTheBundle();
    assertThat(said).allSatisfy(text -> assertThat(forms.unknown(text)).as(text).isEmpty());
  }

  static String phase(JsonNode now) {
    return now.path("phase").asText();
  }

  void await(String what, Predicate<JsonNode> good) {
    Polling.until(what, () -> good.test(now()));
  }

  JsonNode now() {
    try {
      JsonNode now = page.now();
      said.add(now.path("sentence").asText());
      said.add(now.path("todo").asText());
      if (IN_A_BATCH.contains(phase(now))) {
        JsonNode left = now.path("left");
        assertThat(left.path("leastSeconds").asLong(-1)).as(now.toString()).isNotNegative();
        assertThat(left.path("mostSeconds").asLong()).isPositive();
        assertThat(left.path("by").asText()).isNotEmpty();
      }
      return now;
    } catch (IOException gone) {
      throw new UncheckedIOException(gone);
    }
  }

  JsonNode get(String path) throws IOException {
    return page.get("/api/v1" + path).json();
  }

  JsonNode act(String path, ObjectNode body) throws IOException {
    return page.act("/api/v1" + path, body);
  }

  static ObjectNode object() {
    return PageDevice.object();
  }

  /** What hands do to the nest, and that it is seen. */
  void seated(String act, boolean in) throws IOException {
    act("/hands", object().put("act", act));
    await(act, now -> now.path("inputs").path("seat").asBoolean() == in);
  }

  /** A person's word that what was asked is done. */
  void done() throws IOException {
    act("/commands", object().put("what", "continue"));
  }
}
