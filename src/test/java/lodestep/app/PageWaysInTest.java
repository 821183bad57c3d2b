package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: nobody gets in who should not. Method: every way in that the server itself lists is tried
 * without what it demands; a way in that no rule here knows fails.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PageWaysInTest {

  private static final List<String> COMMANDS =
      List.of(
          "/api/v1/batches",
          "/api/v1/commands",
          "/api/v1/hands",
          "/api/v1/gauge",
          "/api/v1/by-hand",
          "/api/v1/gauge/checks",
          "/api/v1/gauge/studies",
          "/api/v1/gauge/typed",
          "/api/v1/gauge/relations",
          "/api/v1/lots",
          "/api/v1/lots/samples",
          "/api/v1/orders",
          "/api/v1/handovers",
          "/api/v1/pickups",
          "/api/v1/scraps",
          "/api/v1/notes",
          "/api/v1/corrections",
          "/api/v1/certificates",
          "/api/v1/readings",
          "/api/v1/returns",
          "/api/v1/build-notes",
          "/api/v1/build-notes/file");

  private Served served;
  private PageDevice prepares;
  private PageDevice looks;

  @BeforeAll
  void serve(@TempDir Path folder) throws IOException {
    served = ServedRig.at(folder.resolve("ways.ledger"), 1);
    prepares = PageDevice.paired(served.port(), served.access().prepareCode());
    looks = PageDevice.paired(served.port(), served.access().lookCode());
  }

  @AfterAll
  void close() {
    served.close();
  }

  private record Way(String method, String path) {

    boolean open() {
      return !path.startsWith("/api/");
    }

    boolean pairs() {
      return path.equals("/api/v1/pair");
    }

    boolean acts() {
      return method.equals("POST") && !pairs();
    }

    boolean commands() {
      return method.equals("POST") && COMMANDS.contains(path);
    }
  }

  /** The headers of every answer are set before all; everything else is a way in. */
  private List<Way> ways() {
    return served.waysIn().stream()
        .filter(way -> !way.startsWith("BEFORE "))
        .map(way -> way.split(" ", 2))
        .map(parts -> new Way(parts[0], parts[1].replaceAll("\\{[a-z]+}", "1")))
        .toList();
  }

  private static ObjectNode body(Way way) {
    ObjectNode body = PageDevice.object();
    return switch (way.path()) {
      case "/api/v1/commands" -> body.put("what", "pause");
      case "/api/v1/hands" -> body.put("act", "key-off");
      case "/api/v1/gauge" -> body.put("act", "reset");
      case "/api/v1/scraps", "/api/v1/notes", "/api/v1/corrections" -> body.put("magnet", 1);
      case "/api/v1/readings", "/api/v1/returns" -> body.put("pickup", 1);
      case "/api/v1/pair" -> body.put("code", "AAAA-AAAA");
      default -> body;
    };
  }

  private PageDevice.Said tried(Way way, Map<String, String> headers) throws IOException {
    ObjectNode body = way.commands() ? prepares.fresh(body(way)) : body(way);
    return prepares.send(
        way.method(), way.path(), headers, way.method().equals("GET") ? "" : body.toString());
  }

  @Test
  void knowsEveryWayIn() {
    assertThat(ways()).hasSizeGreaterThan(45);
    assertThat(ways()).allMatch(way -> List.of("GET", "POST").contains(way.method()));
    assertThat(ways().stream().filter(Way::commands)).hasSameSizeAs(COMMANDS);
    assertThat(ways().stream().filter(Way::acts).map(Way::path))
        .containsExactlyInAnyOrderElementsOf(
            Stream.concat(COMMANDS.stream(), Stream.of("/api/v1/stop", "/api/v1/plans/check"))
                .toList());
  }

  @TestFactory
  Stream<DynamicTest> refusesEachWithoutAToken() {
    return ways().stream()
        .filter(way -> !way.open() && !way.pairs())
        .map(
            way ->
                DynamicTest.dynamicTest(
                    way.toString(),
                    () -> {
                      Map<String, String> headers = prepares.usual();
                      headers.remove("Cookie");
                      assertThat(tried(way, headers).refused()).isEqualTo("no token");
                      headers.put(
                          "Cookie",
                          String.valueOf(prepares.usual().get("Cookie"))
                              .replaceFirst("=.{4}", "=AAAA"));
                      assertThat(tried(way, headers).refused()).isEqualTo("no token");
                    }));
  }

  @TestFactory
  Stream<DynamicTest> refusesEachByAWrongHost() {
    return ways().stream()
        .map(
            way ->
                DynamicTest.dynamicTest(
                    way.toString(),
                    () -> {
                      Map<String, String> headers = prepares.usual();
                      headers.put("Host", "rebound.example:" + served.port());
                      assertThat(tried(way, headers).refused()).isEqualTo("wrong host");
                      headers.put("Host", "127.0.0.1:1");
                      assertThat(tried(way, headers).refused()).isEqualTo("wrong host");
                    }));
  }

  @TestFactory
  Stream<DynamicTest> refusesEachByAWrongOrigin() {
    return ways().stream()
        .map(
            way ->
                DynamicTest.dynamicTest(
                    way.toString(),
                    () -> {
                      Map<String, String> headers = prepares.usual();
                      headers.put("Origin", "http://elsewhere.example");
                      assertThat(tried(way, headers).refused()).isEqualTo("wrong origin");
                      if (way.method().equals("POST")) {
                        headers.remove("Origin");
                        assertThat(tried(way, headers).refused()).isEqualTo("wrong origin");
                      }
                    }));
  }

  @TestFactory
  Stream<DynamicTest> refusesEachActWithoutItsProof() {
    return ways().stream()
        .filter(Way::acts)
        .map(
            way ->
                DynamicTest.dynamicTest(
                    way.toString(),
                    () -> {
                      Map<String, String> headers = prepares.usual();
                      headers.remove("X-Lodestep-Proof");
                      assertThat(tried(way, headers).refused()).isEqualTo("no proof");
                      headers.put("X-Lodestep-Proof", looks.usual().get("X-Lodestep-Proof"));
                      assertThat(tried(way, headers).refused()).isEqualTo("no proof");
                    }));
  }

  @TestFactory
  Stream<DynamicTest> refusesEachCommandThatIsLateOrOldOrDoubled() {
    return ways().stream()
        .filter(Way::commands)
        .map(
            way ->
                DynamicTest.dynamicTest(
                    way.toString(),
                    () -> {
                      ObjectNode late = prepares.fresh(body(way));
                      late.put("by", late.path("by").asLong() - 4_001);
                      assertThat(prepares.post(way.path(), late).refused()).isEqualTo("late");
                      ObjectNode farOff = prepares.fresh(body(way));
                      farOff.put("by", farOff.path("by").asLong() + 60_000);
                      assertThat(prepares.post(way.path(), farOff).refused()).isEqualTo("late");
                      ObjectNode old = prepares.fresh(body(way));
                      old.put("saw", old.path("saw").asLong() - 1);
                      assertThat(prepares.post(way.path(), old).refused()).isEqualTo("changed");
                      ObjectNode one = prepares.fresh(body(way));
                      one.set(
                          "rows", JsonNodeFactory.instance.arrayNode().add(PageDevice.object()));
                      PageDevice.Said first = prepares.post(way.path(), one);
                      assertThat(first.refused()).as("the first time: " + first).isEmpty();
                      assertThat(prepares.post(way.path(), one).refused()).isEqualTo("doubled");
                    }));
  }

  @TestFactory
  Stream<DynamicTest> letsWhoeverLooksDoNothingButStop() {
    return ways().stream()
        .filter(Way::acts)
        .map(
            way ->
                DynamicTest.dynamicTest(
                    way.toString(),
                    () -> {
                      PageDevice.Said said = looks.post(way.path(), looks.fresh(body(way)));
                      if (way.path().equals("/api/v1/stop")) {
                        assertThat(said.status()).isEqualTo(200);
                      } else {
                        assertThat(said.refused()).isEqualTo("look only");
                      }
                    }));
  }

  @Test
  void refusesACommandWithoutItsKey() throws IOException {
    ObjectNode body = prepares.fresh(PageDevice.object().put("what", "pause"));
    body.remove("key");

    assertThat(prepares.post("/api/v1/commands", body).status()).isEqualTo(400);
  }

  @Test
  void takesAStopFromADeviceThatHasAskedTooMuch() throws IOException {
    PageDevice eager = PageDevice.paired(served.port(), served.access().prepareCode());
    int status = 200;
    for (int asked = 0; asked < 20_000 && status == 200; asked++) {
      status = eager.sendOnce("GET", "/api/v1/session", eager.usual(), "").status();
    }

    assertThat(status).as("asked too much").isEqualTo(429);
    assertThat(eager.post("/api/v1/stop", PageDevice.object()).status()).isEqualTo(200);
  }

  /** More devices than the server has threads, each asking for more than any buffer holds. */
  @Test
  void takesAStopWhileACrowdAsksForFilesThatItDoesNotRead() throws IOException {
    List<Socket> crowd = new ArrayList<>();
    try {
      for (int one = 0; one < 100; one++) {
        crowd.add(unread("/page/uplot.js", "127.0.1." + (one + 1)));
      }
      assertThat(prepares.post("/api/v1/stop", PageDevice.object()).status()).isEqualTo(200);
    } finally {
      for (Socket socket : crowd) {
        socket.close();
      }
    }
  }

  private Socket unread(String path, String from) throws IOException {
    Socket socket = new Socket();
    socket.setReceiveBufferSize(1);
    socket.bind(new InetSocketAddress(from, 0));
    socket.connect(new InetSocketAddress(InetAddress.getLoopbackAddress(), served.port()));
    String ask = "GET " + path + " HTTP/1.1\r\nHost: 127.0.0.1:" + served.port() + "\r\n\r\n";
    socket.getOutputStream().write(ask.repeat(60).getBytes(StandardCharsets.US_ASCII));
    return socket;
  }

  @Test
  void trippedByAStopWhateverElseIsAsked() throws IOException {
    prepares.post("/api/v1/stop", PageDevice.object());
    String phase = "";
    for (int look = 0; look < 1_000 && !phase.equals("tripped"); look++) {
      phase = prepares.now().path("phase").asText();
    }

    assertThat(phase).isEqualTo("tripped");
  }

  @Test
  void refusesWhatIsTooLongOrNoJson() throws IOException {
    Map<String, String> headers = prepares.usual();

    assertThat(prepares.send("POST", "/api/v1/commands", headers, "{").status()).isEqualTo(400);
    assertThat(prepares.send("POST", "/api/v1/commands", headers, "[]").status()).isEqualTo(400);
    assertThat(
            prepares
                .send("POST", "/api/v1/commands", headers, "{\"key\":\"" + "x".repeat(70_000))
                .status())
        .isEqualTo(413);
  }
}
