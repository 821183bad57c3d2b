package lodestep.adapter.serial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BooleanSupplier;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.protocol.RequestDecoder;
import lodestep.protocol.RequestWriter;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: lines pass, and whatever becomes of the cable is told and harms nothing. Method: a real
 * terminal pair, a clock that only the test moves, and the test in the part of the head.
 */
class SerialHeadLinkTest {

  private static final byte[] ASK_HELLO =
      RequestWriter.line(new HostLine(HostLine.NO_SESSION, new HeadRequest.AskHello()));

  private final HandClock clock = new HandClock();
  private final ByteArrayOutputStream atHead = new ByteArrayOutputStream();
  private final Path folder;
  private final PtyPair cable;

  SerialHeadLinkTest(@TempDir Path folder) {
    this.folder = folder;
    this.cable = PtyPair.in(folder);
  }

  @AfterEach
  void leaveNothing() {
    cable.close();
  }

  @Test
  void handsOverFramesInOrderWithTheTimeOfTheirArrival() {
    try (SerialHeadLink link = opened()) {
      for (int sequence = 1; sequence <= 3; sequence++) {
        cable.write(StatusLine.numbered(sequence));
      }

      List<ReceivedFrame> got = framesFrom(link, 3);

      assertThat(got).extracting(frame -> sequenceOf(frame.frame())).containsExactly(1, 2, 3);
      assertThat(got).allMatch(frame -> frame.receivedAtNs() == clock.nowNs());
      assertThat(link.take()).isEmpty();
    }
  }

  @Test
  void countsGarbageAndGoesOnWithTheNextLine() {
    try (SerialHeadLink link = opened()) {
      cable.write(StatusLine.numbered(1));
      cable.write("S 1 2 three 0000\nnoise".getBytes(StandardCharsets.US_ASCII));
      cable.write(new byte[] {(byte) 0xFF, 0, (byte) 0x95, '\n'});
      cable.write(StatusLine.numbered(2));

      List<ReceivedFrame> got = framesFrom(link, 2);

      assertThat(got).extracting(frame -> sequenceOf(frame.frame())).containsExactly(1, 2);
      assertThat(link.state(clock.nowNs()).badLines()).isEqualTo(2);
    }
  }

  @Test
  void asksWhoTheHeadIsAndThenSendsWhatIsOffered() {
    HeadRequest heartbeat = new HeadRequest.Heartbeat(7, true);
    HeadRequest askToken = new HeadRequest.AskToken(31);
    try (SerialHeadLink link = opened()) {
      link.offer(heartbeat);
      link.offer(askToken);

      awaitAtHead(lineOf(link, askToken));
    }
    assertThat(askedAtHead()).containsExactly(new HeadRequest.AskHello(), heartbeat, askToken);
  }

  @Test
  void refusesARequestThatCannotBeWritten() {
    try (SerialHeadLink link = opened()) {
      assertThatThrownBy(() -> link.offer(new HeadRequest.AskToken(0)))
          .isInstanceOf(IllegalArgumentException.class);
    }
  }

  @Test
  void sendsTheStopByte() {
    try (SerialHeadLink link = opened()) {
      link.stop();

      awaitAtHead(new byte[] {HeadRequest.STOP_BYTE});
    }
    assertThat(requestsAtHead().stop()).isTrue();
  }

  @Test
  void letsAStopGoOutBeforeItCloses() {
    SerialHeadLink link = opened();

    link.stop();
    link.close();

    awaitAtHead(new byte[] {HeadRequest.STOP_BYTE});
    assertThat(link.state(clock.nowNs()).open()).isFalse();
    assertThat(link.state(clock.nowNs()).words()).contains("has been closed");
  }

  @Test
  void closesAtOnceWhenTheCableIsPulledAndTellsItOnce() {
    try (SerialHeadLink link = opened()) {
      cable.write(StatusLine.numbered(1));
      framesFrom(link, 1);

      cable.cut();

      Polling.until("the loss to be told", () -> !link.state(clock.nowNs()).open());
      assertThat(link.state(clock.nowNs()).words())
          .isEqualTo(LinkWords.lost(cable.near()))
          .contains(cable.near().toString(), "plug it in");
      whileItTries(
          "the next try to say what is missing",
          () -> link.state(clock.nowNs()).words().equals(LinkWords.missing(cable.near())));
      assertThat(link.losses()).isOne();
    }
  }

  @Test
  void comesBackByItselfAndSendsNothingFromBefore() {
    try (SerialHeadLink link = opened()) {
      cable.write(StatusLine.numbered(1));
      framesFrom(link, 1);
      cable.cut();
      Polling.until("the loss to be told", () -> !link.state(clock.nowNs()).open());

      link.offer(new HeadRequest.OpenWindow(5, 31, 12_000));
      link.stop();
      cable.restore();
      atHead.reset();
      reopened(link);
      link.offer(new HeadRequest.AskPulse(31));
      awaitAtHead(lineOf(link, new HeadRequest.AskPulse(31)));
      cable.write(StatusLine.numbered(2));

      assertThat(sequenceOf(framesFrom(link, 1).get(0).frame())).isEqualTo(2);
      assertThat(requestsAtHead().stop()).isFalse();
      assertThat(askedAtHead().get(1)).isEqualTo(new HeadRequest.AskPulse(31));
    }
  }

  @Test
  void dropsWhatHadPiledUpBeforeItOpened() {
    byte[] stale = StatusLine.numbered(1);
    for (int i = 0; i < 20; i++) {
      cable.write(stale);
    }
    Polling.until("the backlog", () -> cable.waitingAtNear() == 20 * stale.length);

    try (SerialHeadLink link = opened()) {
      cable.write(StatusLine.numbered(2));

      assertThat(sequenceOf(framesFrom(link, 1).get(0).frame())).isEqualTo(2);
    }
  }

  @Test
  void countsAsDeadWhenNothingIsTakenAndSendsNothingOldAfterwards() {
    HeadRequest old = new HeadRequest.AskToken(31);
    HeadRequest fresh = new HeadRequest.AskToken(32);
    try (SerialHeadLink link = opened()) {
      awaitAtHead(ASK_HELLO);
      atHead.reset();
      cable.freeze();
      Polling.until(
          "the link to count as dead",
          () -> {
            for (int i = 0; i < Outbox.LINES_MAX; i++) {
              link.offer(old);
            }
            clock.advanceMs(101);
            return !link.state(clock.nowNs()).open();
          });

      assertThat(link.state(clock.nowNs()).words()).isEqualTo(LinkWords.notTaken(cable.near()));
      Polling.until("the waiting lines to be dropped", () -> link.waiting() == 0);
      link.offer(old);
      assertThat(link.waiting()).isZero();
      cable.thaw();
      reopened(link);
      int before = drainedAtHead();
      link.offer(fresh);
      awaitAtHead(lineOf(link, fresh));
      assertThat(atHead.size() - before).isLessThan(100);
    }
  }

  @Test
  void saysThatThePortIsMissingAndOpensItWhenItComes() {
    cable.cut();
    try (SerialHeadLink link = SerialHeadLink.to(cable.near(), clock)) {
      Polling.until(
          "the missing port to be told",
          () -> link.state(clock.nowNs()).words().equals(LinkWords.missing(cable.near())));
      assertThat(link.state(clock.nowNs()).open()).isFalse();

      cable.restore();

      reopened(link);
      assertThat(link.losses()).isZero();
    }
  }

  @Test
  void saysThatAPlainFileIsNoPort() throws Exception {
    Path file = Files.createFile(folder.resolve("notes.txt"));
    try (SerialHeadLink link = SerialHeadLink.to(file, clock)) {
      Polling.until(
          "the wrong path to be told",
          () -> link.state(clock.nowNs()).words().equals(LinkWords.notAPort(file)));
    }
    assertThat(file).isEmptyFile();
  }

  @Test
  void saysThatThePortIsInUseAndOpensItWhenItIsFree() {
    SerialHeadLink first = opened();
    try (SerialHeadLink second = SerialHeadLink.to(cable.near(), clock)) {
      Polling.until(
          "the busy port to be told",
          () -> second.state(clock.nowNs()).words().equals(LinkWords.busy(cable.near())));
      assertThat(first.state(clock.nowNs()).open()).isTrue();

      first.close();

      reopened(second);
    } finally {
      first.close();
    }
  }

  /** A port that is numbered anew stands under the same name and is another one underneath. */
  @Test
  void opensWhateverItsNameMeansWhenItComesBackAndAsksItWhoItIs(@TempDir Path other)
      throws Exception {
    try (SerialHeadLink link = opened();
        PtyPair another = PtyPair.in(other)) {
      cable.cut();
      Polling.until("the loss to be told", () -> !link.state(clock.nowNs()).open());
      Files.createSymbolicLink(cable.near(), another.near());

      reopened(link);
      another.write(StatusLine.numbered(9));

      assertThat(sequenceOf(framesFrom(link, 1).get(0).frame())).isEqualTo(9);
      StringBuilder asked = new StringBuilder();
      Polling.until(
          "the question who it is",
          () -> {
            asked.append(new String(another.read(), StandardCharsets.US_ASCII));
            return asked.toString().endsWith("h 0C5E\n");
          });
    }
  }

  /** A line in pieces, byte after byte with the clock moving on: whole when its end has come. */
  @Test
  void givesALineThatComesByteByByteTheTimeOfItsEnd() {
    try (SerialHeadLink link = opened()) {
      byte[] line = StatusLine.numbered(4);
      for (int i = 0; i < line.length - 1; i++) {
        cable.write(new byte[] {line[i]});
      }
      Polling.until("all but its end", () -> link.receivedBytes() == line.length - 1);
      assertThat(link.take()).isEmpty();
      clock.advanceMs(40);
      cable.write(new byte[] {'\n'});

      List<ReceivedFrame> got = framesFrom(link, 1);

      assertThat(got.get(0).receivedAtNs()).isEqualTo(clock.nowNs());
      assertThat(link.state(clock.nowNs()).badLines()).isZero();
    }
  }

  @Test
  void keepsTheNewestFramesWhenNobodyTakesThem() {
    int sent = SerialHeadLink.FRAMES_MAX + 10;
    try (SerialHeadLink link = opened()) {
      for (int sequence = 1; sequence <= sent; sequence++) {
        cable.write(StatusLine.numbered(sequence));
      }
      // A bad line behind them all tells that everything before it has been read.
      cable.write("end\n".getBytes(StandardCharsets.US_ASCII));
      Polling.until("the last line", () -> link.state(clock.nowNs()).badLines() == 1);

      List<ReceivedFrame> got = link.take();

      assertThat(got).hasSize(SerialHeadLink.FRAMES_MAX);
      assertThat(sequenceOf(got.get(0).frame())).isEqualTo(11);
      assertThat(sequenceOf(got.get(got.size() - 1).frame())).isEqualTo(sent);
    }
  }

  @Test
  void loadsTheLibraryFromAFolderOfItsOwnThatIsGoneByThen() throws Exception {
    opened().close();

    // The kernel's list of what this program has mapped; it marks files that are no longer there.
    List<String> mapped =
        Files.readAllLines(Path.of("/proc/self/maps")).stream()
            .filter(line -> line.contains("libjSerialComm"))
            .toList();
    assertThat(mapped)
        .isNotEmpty()
        .allMatch(line -> line.contains("/lodestep-serial") && line.endsWith(" (deleted)"));
  }

  private SerialHeadLink opened() {
    SerialHeadLink link = SerialHeadLink.to(cable.near(), clock);
    Polling.until(
        "the port to open: " + link.state(clock.nowNs()), () -> link.state(clock.nowNs()).open());
    return link;
  }

  private void reopened(SerialHeadLink link) {
    whileItTries("the port to open again", () -> link.state(clock.nowNs()).open());
  }

  /**
   * Moves the clock past the longest wait between tries, now and then, until the condition holds.
   * Not at every look: a clock that races makes an ordinary write look like one that hangs.
   */
  private void whileItTries(String what, BooleanSupplier condition) {
    AtomicInteger looks = new AtomicInteger();
    Polling.until(
        what,
        () -> {
          if (looks.getAndIncrement() % 200 == 0) {
            clock.advanceMs(5_001);
          }
          return condition.getAsBoolean();
        });
  }

  private static List<ReceivedFrame> framesFrom(SerialHeadLink link, int count) {
    List<ReceivedFrame> got = new ArrayList<>();
    Polling.until(
        count + " frames",
        () -> {
          got.addAll(link.take());
          return got.size() >= count;
        });
    return got;
  }

  private void awaitAtHead(byte[] ending) {
    String wanted = new String(ending, StandardCharsets.ISO_8859_1);
    Polling.until(
        "the head to have got '" + wanted.strip() + "'",
        () -> {
          atHead.writeBytes(cable.read());
          return atHead.toString(StandardCharsets.ISO_8859_1).endsWith(wanted);
        });
  }

  /** Takes all that is on the wire to the head; the hello of the new opening is the last of it. */
  private int drainedAtHead() {
    awaitAtHead(ASK_HELLO);
    return atHead.size();
  }

  private static byte[] lineOf(SerialHeadLink link, HeadRequest request) {
    return RequestWriter.line(new HostLine(link.session(), request));
  }

  private List<HeadRequest> askedAtHead() {
    return requestsAtHead().lines().stream().map(HostLine::request).toList();
  }

  private RequestDecoder.Received requestsAtHead() {
    byte[] bytes = atHead.toByteArray();
    return new RequestDecoder().feed(bytes, bytes.length);
  }

  private static int sequenceOf(HeadFrame frame) {
    return ((HeadFrame.Status) frame).sequence();
  }
}
