package lodestep.sim;

import static lodestep.protocol.Said.refusals;
import static lodestep.protocol.Said.statuses;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.firmware.NativeHead;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadLineDecoder;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.protocol.RefusalReason;
import lodestep.protocol.RequestWriter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the head's firmware holds permit and window as the page on its lines says, and as the
 * virtual head does. Method: the firmware built here, moved on a millisecond at a time.
 */
class NativeHeadTest {

  /** Chain, lids, stop loop and fill relay's mirror closed; bleed contact open. */
  private static final String READY_TO_FIRE = "i 7c 17290 0 0\n";

  private static final int SESSION = 4_711;

  private final Path folder;
  private final NativeHead head;
  private int heartbeat;

  NativeHeadTest(@TempDir Path folder) {
    this.folder = folder;
    this.head = NativeHead.builtIn(folder);
  }

  @Test
  void holdsAndLatchesThePermitMillisecondByMillisecondAsTheVirtualHeadDoes() {
    SplittableRandom random = new SplittableRandom(41);
    StringBuilder acts = new StringBuilder();
    List<String> expected = new ArrayList<>();
    HeadPermit twin = new HeadPermit();
    long clockMs = 0;
    boolean closed = true;
    boolean good = true;
    int held = 0;
    int session = 3;
    int strangers = 0;
    for (int act = 0; act < 60_000; act++) {
      int drawn = random.nextInt(1_000);
      if (drawn < 60) {
        boolean asks = random.nextInt(12) != 0;
        heartbeat += random.nextInt(20) == 0 ? 0 : 1;
        // Now and then another session speaks up, sometimes for so long that it is the one served.
        session = random.nextInt(60) == 0 ? 8 - session : session;
        acts.append("h %d %d %d\n".formatted(session, heartbeat & 0xffff, asks ? 1 : 0));
        strangers += heard(twin, clockMs, session, heartbeat & 0xffff, asks) ? 0 : 1;
      } else if (drawn < 61) {
        acts.append("l\n");
        twin.latch();
      } else {
        closed = random.nextInt(300) == 0 ? !closed : closed || random.nextInt(20) == 0;
        good = random.nextInt(400) == 0 ? !good : good || random.nextInt(20) == 0;
        int elapsedMs = random.nextInt(500) == 0 ? 18 + random.nextInt(6) : 1;
        acts.append("s ").append(elapsedMs).append(closed ? " 1" : " 0");
        acts.append(good ? " 1\n" : " 0\n");
        clockMs += elapsedMs;
        twin.step(clockMs, closed, good);
      }
      held += twin.held() ? 1 : 0;
      expected.add(told(twin, clockMs));
    }

    assertThat(head.answer("permit", acts.toString())).isEqualTo(expected);
    assertThat(strangers).isGreaterThan(20);
    assertThat(held).as("both ways were walked").isBetween(10_000, 50_000);
  }

  @Test
  void greetsAndSendsAHundredLinesASecond() {
    List<HeadFrame> said = after("n 1000\n");

    assertThat(said.get(0))
        .isEqualTo(new HeadFrame.Hello(40_213, "NATIVE-0001", 3, "0.2-native", true));
    assertThat(said.get(1))
        .isEqualTo(
            new HeadFrame.Build(40_213, 2_000_000, 1_600, 78_000, 8_000, 300, 51_000, 7_000));
    assertThat(said.subList(2, said.size()))
        .hasSize(100)
        .allMatch(HeadFrame.Status.class::isInstance);
    assertThat(((HeadFrame.Status) said.get(2)).sequence()).isZero();
  }

  @Test
  void grantsATokenOpensItsWindowAndReportsThePulse() {
    List<HeadFrame> said =
        after(
            READY_TO_FIRE
                + permitted()
                + line(new HeadRequest.AskToken(1_208))
                + line(new HeadRequest.OpenWindow(55_102, 1_208, 17_300))
                + "n 20\ni 7c 17290 0 1\nn 1\ni 7c 17100 4310 1\nn 5\n"
                + "i 7c 16930 -60 0\nn 10\ni 7c 16930 0 0\nn 10\n"
                + line(new HeadRequest.AskPulse(1_208)));

    HeadFrame.PulseReport report =
        new HeadFrame.PulseReport(40_213, 1_208, 55_102, 4_310, 60, 17_290, 16_930, 16_000, true);
    assertThat(said).contains(new HeadFrame.TokenGrant(40_213, 55_102, 1_208));
    assertThat(said)
        .filteredOn(HeadFrame.PulseReport.class::isInstance)
        .containsExactly(report, report);
    assertThat(said).filteredOn(HeadFrame.Refused.class::isInstance).isEmpty();
    assertThat(statuses(said)).anyMatch(status -> status.has(HeadFlag.WINDOW));
    assertThat(statuses(said).get(statuses(said).size() - 1).has(HeadFlag.WINDOW)).isFalse();
  }

  @Test
  void refusesInTheOrderOfThePage() {
    String ask = line(new HeadRequest.AskToken(9));
    String first = line(new HeadRequest.OpenWindow(55_102, 9, 17_300));
    String second = line(new HeadRequest.OpenWindow(55_103, 9, 17_300));

    assertThat(refusals(after(READY_TO_FIRE + "n 60\n" + ask)))
        .containsExactly(RefusalReason.NO_PERMIT);
    assertThat(refusals(after(READY_TO_FIRE + permitted() + first)))
        .as("a token never given")
        .containsExactly(RefusalReason.BAD_TOKEN);
    assertThat(refusals(after(READY_TO_FIRE + permitted() + ask + ask + first + second)))
        .as("a newer grant voids the older")
        .containsExactly(RefusalReason.BAD_TOKEN);
    assertThat(refusals(after("i 7c 17301 0 0\n" + permitted() + ask + first + first)))
        .as("too high, and then spent")
        .containsExactly(RefusalReason.BANK_TOO_HIGH, RefusalReason.BAD_TOKEN);
    assertThat(refusals(after("i 3c 17290 0 0\n" + permitted() + ask + first)))
        .as("fill relay not released")
        .containsExactly(RefusalReason.NOT_SAFE);
    assertThat(refusals(after(READY_TO_FIRE + line(new HeadRequest.AskPulse(9)))))
        .containsExactly(RefusalReason.NOT_IN_RING);
  }

  @Test
  void refusesATokenOlderThan500Milliseconds() {
    String ask = line(new HeadRequest.AskToken(9));
    String open = line(new HeadRequest.OpenWindow(55_102, 9, 17_300));

    assertThat(refusals(after(READY_TO_FIRE + permitted() + ask + kept(500) + open))).isEmpty();
    assertThat(refusals(after(READY_TO_FIRE + permitted() + ask + kept(501) + open)))
        .containsExactly(RefusalReason.BAD_TOKEN);
  }

  /** The host reads a line each 10 ms; what opened between two of them must not be lost. */
  @Test
  void saysThatTheChainHasOpenedHoweverShortly() {
    List<HeadFrame.Status> lines =
        statuses(after("i 7c 0 0 0\nn 13\ni 78 0 0 0\nn 1\ni 7c 0 0 0\nn 26\n"));

    assertThat(lines)
        .extracting(line -> line.has(HeadFlag.CHAIN))
        .containsExactly(true, false, true, true);
  }

  @Test
  void stopTakesPermitTokenAndWindow() {
    List<HeadFrame> said =
        after(
            READY_TO_FIRE
                + permitted()
                + line(new HeadRequest.AskToken(9))
                + line(new HeadRequest.OpenWindow(55_102, 9, 17_300))
                + "!\nn 20\n");

    HeadFrame.Status last = statuses(said).get(statuses(said).size() - 1);
    assertThat(last.has(HeadFlag.PERMIT) || last.has(HeadFlag.WINDOW)).isFalse();
    assertThat(last.has(HeadFlag.LATCHED)).isTrue();
    assertThat(said).filteredOn(HeadFrame.PulseReport.class::isInstance).hasSize(1);
  }

  /** Home switch open at the start: away from it, back to it, then to a place, then no permit. */
  @Test
  void findsHomeGoesToAPlaceAndStopsWithThePermit() {
    String away = "i 0cfc 0 0 0 1\n";
    String home = "i 08fc 0 0 0 1\n";
    String found = away + kept(100) + home + kept(100) + away + kept(100) + home + kept(20);
    String sent = line(new HeadRequest.MoveTo(5_000));
    List<HeadFrame> said =
        after(
            home
                + permitted()
                + (sent + line(new HeadRequest.MoveTo(0)) + kept(1_000) + found)
                + (line(new HeadRequest.MoveTo(78_001)) + sent + kept(40) + away + kept(2_000))
                + (line(new HeadRequest.MoveTo(20_000)) + kept(500) + "!\nn 50\n")
                + line(new HeadRequest.MoveTo(0)));

    assertThat(refusals(said))
        .as("not homed; beyond its travel; no permit")
        .containsExactly(RefusalReason.NOT_SAFE, RefusalReason.NOT_SAFE, RefusalReason.NO_PERMIT);
    List<HeadFrame.Status> lines = statuses(said);
    assertThat(lines)
        .as("10 ms at 1 mm/s behind the switch")
        .anyMatch(line -> line.has(HeadFlag.HOMED) && Math.abs(line.positionMicroMetres()) <= 10);
    assertThat(lines).anyMatch(line -> line.positionMicroMetres() == 5_000);
    HeadFrame.Status last = lines.get(lines.size() - 1);
    assertThat(last.positionMicroMetres()).isBetween(7_000, 9_000);
    assertThat(lines.get(lines.size() - 4).positionMicroMetres())
        .as("it stands")
        .isEqualTo(last.positionMicroMetres());
    assertThat(last.has(HeadFlag.HOMED)).isTrue();
  }

  /** On a real terminal, in real time, with the host's own link at the other end. */
  @Test
  void speaksWithTheHostsLinkOverATerminal() throws IOException {
    Path port = folder.resolve("head");
    // socat divides its arguments at blanks, which a folder's name may have.
    Files.createSymbolicLink(folder.resolve("program"), head.program().toAbsolutePath());
    Process socat =
        new ProcessBuilder("socat", "pty,raw,echo=0,link=./head", "EXEC:./program run")
            .directory(folder.toFile())
            .redirectErrorStream(true)
            .redirectOutput(new File(folder.toFile(), "socat.log"))
            .start();
    SystemMonotonicClock clock = new SystemMonotonicClock();
    try {
      Polling.until("the terminal", () -> Files.exists(port));
      try (SerialHeadLink link = SerialHeadLink.to(port, clock)) {
        List<HeadFrame> said = new ArrayList<>();
        Polling.until(
            "its answer to who it is, and its state",
            () -> {
              link.take().stream().map(ReceivedFrame::frame).forEach(said::add);
              return said.stream().anyMatch(HeadFrame.Hello.class::isInstance)
                  && statuses(said).size() > 5;
            });
        assertThat(link.state(clock.nowNs()).badLines()).isZero();
      }
    } finally {
      socat.destroyForcibly();
      Polling.until("socat to end", () -> !socat.isAlive());
    }
  }

  private static String told(HeadPermit twin, long clockMs) {
    return (twin.held() ? "1 " : "0 ")
        + (twin.latched() ? "1 " : "0 ")
        + (twin.strangerSince(clockMs) ? "1" : "0");
  }

  private static boolean heard(
      HeadPermit twin, long clockMs, int session, int sequence, boolean asks) {
    boolean heeded = twin.heeds(clockMs, session);
    if (heeded) {
      twin.heartbeat(clockMs, session, sequence, asks);
    }
    return heeded;
  }

  private List<HeadFrame> after(String script) {
    byte[] said = head.answer("script", script.getBytes(StandardCharsets.ISO_8859_1));
    HeadLineDecoder decoder = new HeadLineDecoder();
    List<HeadFrame> frames = decoder.feed(said, said.length);
    assertThat(decoder.badLines()).isZero();
    return frames;
  }

  /** Stable contacts, a heartbeat that does not ask, then one that does. */
  private String permitted() {
    return "n 60\n" + beat(false) + "n 5\n" + beat(true) + "n 5\n";
  }

  /** So many milliseconds with the heartbeats going on. */
  private String kept(int milliseconds) {
    StringBuilder kept = new StringBuilder();
    for (int left = milliseconds; left > 0; left -= 100) {
      kept.append("n ").append(Math.min(left, 100)).append('\n').append(beat(true));
    }
    return kept.toString();
  }

  private String beat(boolean permit) {
    return line(new HeadRequest.Heartbeat(++heartbeat & 0xffff, permit));
  }

  private static String line(HeadRequest request) {
    return "> "
        + new String(RequestWriter.line(new HostLine(SESSION, request)), StandardCharsets.US_ASCII);
  }
}
