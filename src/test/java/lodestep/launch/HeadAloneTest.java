package lodestep.launch;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.net.CookieManager;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.serial.PtyPair;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.app.remote.HandOrder;
import lodestep.app.remote.LiveRig;
import lodestep.app.remote.RigOrder;
import lodestep.config.HeadConfig;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.magnet.Shape;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadLineWriter;
import lodestep.quantity.Length;
import lodestep.sim.StockPiece;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: {@code read} and {@code hand} work at a head on a serial line as a person uses them, and
 * refuse one that is not there, not free or not the right one. Method: the program, and a head with
 * magnets and a hand beside it, in processes of their own, in real time; nothing is expected of how
 * fast they are.
 */
@Timeout(300)
class HeadAloneTest {

  private static final String SERIAL = "LB-02";

  private final Lodestep lodestep;
  private final Path lineFolder;
  private final Path port;

  HeadAloneTest(@TempDir Path folder, @TempDir Path lineFolder) {
    this.lodestep = new Lodestep(folder);
    this.lineFolder = lineFolder;
    this.port = lineFolder.resolve("head");
  }

  /** The shipped example, at this port. */
  private String rig(Path at) throws IOException {
    Path repository = Path.of(System.getProperty("lodestep.repository", ""));
    String example = Files.readString(repository.resolve("firmware-host/board/rig-real-head.toml"));
    assertThat(example).contains("/dev/lodestep-head", SERIAL);
    Path file = lodestep.folder().resolve("rig.toml");
    Files.writeString(file, example.replace("/dev/lodestep-head", at.toString()));
    return file.toString();
  }

  private LiveRig head(String serial) throws IOException {
    RigConfig onALine =
        ReferenceRig.virtual().with(new HeadConfig.SerialHead(port.toString(), serial));
    Shape rod = new Shape.Rod(Length.ofMm(5.1), Length.ofMm(18));
    StockPiece piece = new StockPiece("alnico 2", rod, false, false, 3, 4, "rod nest", List.of());
    HandOrder hand = new HandOrder("rod nest", 5, List.of(piece), List.of(420e3), 18_000);
    return LiveRig.start(RigOrder.byHand(onALine, hand));
  }

  @Test
  void readsALineASecondFromAHeadOnASerialLine() throws IOException, InterruptedException {
    try (LiveRig head = head(SERIAL)) {
      Ending ended = lodestep.run("read", "--rig", rig(port), "--zero", "--for", "4s", "--json");

      assertThat(ended.exitCode()).as(ended.said()).isZero();
      assertThat(ended.said()).contains("Reading in the rod nest").doesNotContain("VIRTUAL");
      List<String> lines = ended.output().lines().toList();
      assertThat(lines).isNotEmpty();
      JsonNode last = JsonMapper.builder().build().readTree(lines.get(lines.size() - 1));
      assertThat(last.get("nest").asText()).isEqualTo("rod nest");
      assertThat(Math.abs(last.get("fieldMicroTesla").asLong())).isLessThan(500);
      assertThat(head.process().isAlive()).isTrue();
    }
  }

  /** A person at the keyboard: reads what is said, and answers when the hand has done it. */
  private static final class Person implements AutoCloseable {
    private final Process program;
    private final Writer keys;
    private final BlockingQueue<String> said = new LinkedBlockingQueue<>();
    private final BlockingQueue<String> done = new LinkedBlockingQueue<>();
    private final List<String> heard = new ArrayList<>();
    private final LiveRig rig;

    Person(Process program, LiveRig rig) {
      this.program = program;
      this.keys = program.outputWriter(StandardCharsets.UTF_8);
      this.rig = rig;
      rig.onContinue(() -> done.add("done"));
      Thread reader = new Thread(this::read, "said");
      reader.setDaemon(true);
      reader.start();
    }

    private void read() {
      try (BufferedReader lines = program.inputReader(StandardCharsets.UTF_8)) {
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
          said.add(line);
        }
      } catch (IOException ended) {
        // The program has ended, which whoever waits for a line will see.
      }
      said.add("(the end)");
    }

    void type(String line) throws IOException {
      keys.write(line + "\n");
      keys.flush();
    }

    /**
     * Reads on to a line with these words. What the program asks for on the way is done by the
     * hand, as often as it is asked: on a busy computer a zero or a reading may be taken again.
     */
    void awaits(String words) throws IOException, InterruptedException {
      for (String line = said.take(); ; line = said.take()) {
        heard.add(line);
        if (line.contains(words)) {
          return;
        }
        if (line.equals("(the end)")) {
          throw new AssertionError("never said '" + words + "', but " + heard);
        }
        does(line);
      }
    }

    private void does(String line) throws IOException, InterruptedException {
      if (line.contains("Leave the rod nest empty")) {
        has(HandAsk.LEAVE_EMPTY);
      } else if (line.contains("in the rod nest, the face")) {
        has(HandAsk.SEAT);
      } else if (line.contains("Charge it between the jaws") || line.contains("Prove that it is")) {
        has(HandAsk.CHARGE_SOUTH);
      } else if (line.contains("Then press Enter.")) {
        type("");
      }
    }

    /** Has it done by the hand, and says so. */
    private void has(HandAsk ask) throws IOException, InterruptedException {
      rig.cue(HandCue.of(ask));
      done.take();
      rig.cue(HandCue.of(HandAsk.WAIT));
      type("");
    }

    @Override
    public void close() {
      program.destroyForcibly();
    }
  }

  @Test
  void guidesAMagnetByHandAndKeepsWhatWasDoneWhenThePersonEndsIt()
      throws IOException, InterruptedException {
    String ledger = lodestep.ledger().toString();
    try (LiveRig head = head(SERIAL);
        Person person = new Person(lodestep.start(handCommand(port, ledger)), head)) {
      person.awaits("a stronger one did not move it: it is full");
      person.type("n");
      person.awaits("There is nothing to leave out");
      person.type("700 G south by drawer gauge");
      person.awaits("On record as typed, not ours: drawer gauge reads 700 G");
      person.type("q");
      person.awaits("left open after ");
      assertThat(person.program.waitFor()).isEqualTo(1);
      assertThat(String.join("\n", person.heard)).contains("eye protection").doesNotContain("VIRT");
    }
    Ending history = lodestep.run("history", "one", "--ledger", ledger);
    assertThat(history.output())
        .contains("by hand, charge, south", "drawer gauge: 700 G", "ended by a person");
    assertThat(lodestep.prove().output()).startsWith("whole");
    assertThat(lineFolder).isEmptyDirectory();
  }

  /** The page of a real head: what it reads comes over the line, and nothing calls it virtual. */
  @Test
  void servesItsPage() throws IOException, InterruptedException {
    String ledger = lodestep.ledger().toString();
    HttpClient browser = HttpClient.newBuilder().cookieHandler(new CookieManager()).build();
    try (LiveRig head = head(SERIAL);
        Person person =
            new Person(
                lodestep.start("run", "--rig", rig(port), "--ledger", ledger, "--port", "0"),
                head)) {
      person.awaits("The page at the bench");
      String told = person.heard.get(person.heard.size() - 1);
      String address = told.substring(told.indexOf("http"), told.indexOf("/#"));
      String code = told.substring(told.indexOf("=") + 1);
      JsonNode session = sent(browser, address, "/pair", "{\"code\": \"" + code + "\"}", "");
      JsonNode rig = sent(browser, address, "/rig", "", "");
      assertThat(rig.path("drives").asBoolean(true)).isFalse();
      assertThat(rig.path("virtual").asBoolean(true)).isFalse();
      Polling.until(
          "a reading over the line",
          () -> sent(browser, address, "/now", "", "").path("reading").has("tesla"));
      String proof = session.path("proof").asText();
      assertThat(sent(browser, address, "/stop", "{}", proof).path("done").asBoolean()).isTrue();
      person.program.destroy();
      assertThat(person.program.waitFor()).isNotNegative();
      assertThat(head.process().isAlive()).isTrue();
    }
    assertThat(lodestep.prove().output()).startsWith("whole");
  }

  /** One request of a browser's: a question where nothing is sent along. */
  private static JsonNode sent(
      HttpClient browser, String address, String path, String body, String proof) {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(address + "/api/v1" + path))
            .header("Content-Type", "application/json")
            .header("Origin", address)
            .header("X-Lodestep-Proof", proof);
    if (!body.isEmpty()) {
      request.POST(HttpRequest.BodyPublishers.ofString(body));
    }
    try {
      return JsonMapper.builder()
          .build()
          .readTree(browser.send(request.build(), HttpResponse.BodyHandlers.ofString()).body());
    } catch (IOException gone) {
      throw new UncheckedIOException(gone);
    } catch (InterruptedException asked) {
      throw new IllegalStateException(asked);
    }
  }

  private String[] handCommand(Path at, String ledger) throws IOException {
    return new String[] {
      "hand",
      "--rig",
      rig(at),
      "--ledger",
      ledger,
      "--name",
      "one",
      "--alloy",
      "alnico 2",
      "--size",
      "5.1 x 18 mm",
      "--pole-up",
      "south",
      "--target",
      "430 G",
      "--tolerance",
      "15 G"
    };
  }

  private void assertRefuses(Path at, String... words) throws IOException, InterruptedException {
    Ending ended = lodestep.run("read", "--rig", rig(at), "--for", "1s");

    assertThat(ended.exitCode()).isEqualTo(2);
    assertThat(ended.said()).startsWith("lodestep: ").contains(words).hasLineCount(1);
    Ending byHand = lodestep.run(handCommand(at, lodestep.ledger().toString()));
    assertThat(byHand.exitCode()).isEqualTo(2);
    assertThat(byHand.said()).contains(words).hasLineCount(1);
    assertThat(lodestep.ledger()).doesNotExist();
  }

  @Test
  void refusesAPortThatIsNotThere() throws IOException, InterruptedException {
    assertRefuses(port, port.toString(), "plug");
  }

  @Test
  void refusesAPortThatAnotherProgramUses() throws IOException, InterruptedException {
    SystemMonotonicClock clock = new SystemMonotonicClock();
    try (LiveRig head = head(SERIAL);
        SerialHeadLink other = SerialHeadLink.to(port, clock)) {
      Polling.until("the other program's port", () -> other.state(clock.nowNs()).open());

      assertRefuses(port, port.toString(), "use");
      assertThat(head.process().isAlive()).isTrue();
      assertThat(other.state(clock.nowNs()).open()).isTrue();
    }
  }

  @Test
  void refusesAPortThatIsNone() throws IOException, InterruptedException {
    Path file = Files.writeString(lineFolder.resolve("notes.txt"), "somebody's");

    assertRefuses(file, file.toString(), "is not a serial port");
    assertThat(file).hasContent("somebody's");
  }

  /** As when the ports were numbered anew: the name leads to another head. */
  @Test
  void refusesAPortUnderWhoseNameAnotherHeadStands() throws IOException, InterruptedException {
    try (LiveRig head = head("LB-03")) {
      Path renumbered = lodestep.folder().resolve("renumbered");
      Files.createSymbolicLink(renumbered, port);

      assertRefuses(renumbered, "has serial number LB-03, but rig.toml names LB-02");
      assertThat(head.process().isAlive()).isTrue();
    }
  }

  @Test
  void refusesAHeadOfAnotherProtocolVersion() throws IOException, InterruptedException {
    int newer = HeadFrame.PROTOCOL_VERSION + 1;
    byte[] hello = HeadLineWriter.line(new HeadFrame.Hello(7, SERIAL, newer, "9.0", true));
    try (PtyPair cable = PtyPair.in(lineFolder)) {
      Process program = lodestep.start("read", "--rig", rig(cable.near()), "--for", "1s");
      Polling.until("the question who it is", () -> cable.read().length > 0);
      cable.write(hello);

      Ending ended = Ending.of(program);

      assertThat(ended.exitCode()).isEqualTo(2);
      assertThat(ended.said())
          .contains("speaks protocol version " + newer, "load the firmware that belongs")
          .hasLineCount(1);
    }
  }

  @Test
  void refusesAPortAtWhichNoHeadSpeaks() throws IOException, InterruptedException {
    try (PtyPair cable = PtyPair.in(lineFolder)) {
      Ending ended = lodestep.run("read", "--rig", rig(cable.near()), "--for", "1s");

      assertThat(ended.exitCode()).isEqualTo(2);
      assertThat(ended.said()).contains("no head answers on port " + cable.near());
    }
  }
}
