package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.app.remote.LiveRig;
import lodestep.ledger.OpenWork;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: a pulse whose outcome the program did not live to write down is asked of the head that
 * lived on, over the wires; and is unknown when the head has started anew meanwhile. Method: the
 * program in real time on a real rig's description, killed as {@code kill -9} does between intent
 * and outcome, with bench and head in a process of their own behind socat. Each step waits for what
 * the rig, the head or the ledger shows, and for no time.
 */
@Timeout(600)
class RingAskedOverWiresTest {

  private final RealTimeBench bench;
  private final Path port;

  RingAskedOverWiresTest(@TempDir Path folder, @TempDir Path lineFolder) {
    this.bench = RealTimeBench.in(folder, lineFolder);
    this.port = bench.port();
  }

  @AfterEach
  void endWhatAFailedTestHasLeft() {
    bench.close();
  }

  /**
   * Kills the program in the scan that fires the first charge. The head then misses its heartbeat
   * and lets go by itself, which the bleed contact shows: by then the pulse is over.
   *
   * @return the number of the intent that is left open
   */
  private long killedInMidPulse(LiveRig rig) throws IOException, InterruptedException {
    HostProcess host =
        bench.host(rig, OutputLine.COIL_FIRE.name(), "batch", bench.plan().toString());
    host.awaitRaised(OutputLine.COIL_FIRE);
    assertThat(host.isAlive()).as("said: %s", host.said()).isTrue();
    Polling.until("the head to let go", () -> rig.read(0).closed(InputLine.BLEED_CONTACT));

    host.kill();

    assertThat(host.ended()).as("killed, SIGKILL").isEqualTo(128 + 9);
    try (SqliteArchive archive = SqliteArchive.open(bench.ledger())) {
      assertThat(Proof.of(archive, List.of())).isInstanceOf(Proof.Result.Whole.class);
      assertThat(OpenWork.of(archive).intents()).as("intents with no outcome").hasSize(1);
      return OpenWork.of(archive).intents().keySet().iterator().next();
    }
  }

  /** What the head itself answers, asked by the test alone. */
  private HeadFrame.PulseReport ring(long intent) {
    SystemMonotonicClock clock = new SystemMonotonicClock();
    List<HeadFrame.PulseReport> reports = new ArrayList<>();
    try (SerialHeadLink link = SerialHeadLink.to(port, clock)) {
      Polling.until(
          "the head's report",
          () -> {
            link.offer(new HeadRequest.AskPulse(intent));
            for (ReceivedFrame received : link.take()) {
              if (received.frame() instanceof HeadFrame.PulseReport came) {
                reports.add(came);
              }
            }
            return !reports.isEmpty();
          });
    }
    return reports.get(0);
  }

  private List<LedgerEvent> goesOnToTheEnd(LiveRig rig) throws IOException, InterruptedException {
    HostProcess host = bench.host(rig, "", "batch", "--continue");
    assertThat(host.ended()).as("said: %s", host.said()).isZero();
    assertThat(host.said()).anyMatch(line -> line.contains("1 accepted, 0 refused"));
    return bench.events();
  }

  /** As far as the charge that it begins again with. */
  private List<LedgerEvent> goesOnToTheNextPulse(LiveRig rig)
      throws IOException, InterruptedException {
    HostProcess host = bench.host(rig, OutputLine.COIL_FIRE.name(), "batch", "--continue");
    host.awaitRaised(OutputLine.COIL_FIRE);
    host.kill();
    assertThat(host.ended()).as("said: %s", host.said()).isEqualTo(128 + 9);
    return bench.events();
  }

  private static ActEvent.PulseEnded endOf(long intent, List<LedgerEvent> events) {
    List<ActEvent.PulseEnded> ends = new ArrayList<>();
    for (LedgerEvent event : events) {
      if (event instanceof ActEvent.PulseEnded end && end.intent() == intent) {
        ends.add(end);
      }
    }
    assertThat(ends).as("ends of one pulse").hasSize(1);
    return ends.get(0);
  }

  /** A restart never takes a magnet up where it was: it begins again with a charge. */
  private static void assertBeganAgainAndAccepted(List<LedgerEvent> events) {
    assertThat(verdicts(events)).endsWith("accepted");
    assertBeganAgain(events);
  }

  private static List<String> verdicts(List<LedgerEvent> events) {
    return events.stream()
        .filter(LedgerEvent.VerdictGiven.class::isInstance)
        .map(event -> ((LedgerEvent.VerdictGiven) event).verdict())
        .toList();
  }

  private static void assertBeganAgain(List<LedgerEvent> events) {
    assertThat(verdicts(events)).startsWith("tripped");
    assertThat(events.stream().filter(LedgerEvent.ProgramStarted.class::isInstance)).hasSize(2);
  }

  @Test
  void takesTheOutcomeFromTheRingOfTheHeadThatLivedOn() throws IOException, InterruptedException {
    try (LiveRig rig = bench.rig(5)) {
      long intent = killedInMidPulse(rig);
      HeadFrame.PulseReport report = ring(intent);

      List<LedgerEvent> events = goesOnToTheEnd(rig);

      ActEvent.PulseEnded end = endOf(intent, events);
      assertThat(end.outcome()).isNotEqualTo("unknown");
      assertThat(end.why()).contains("the head's ring told how it ended");
      assertThat(end.bootId()).isEqualTo(report.bootId());
      assertThat(end.peakForwardMilliAmps()).isEqualTo(report.peakForwardMilliAmps());
      assertThat(end.peakReverseMilliAmps()).isEqualTo(report.peakReverseMilliAmps());
      assertBeganAgainAndAccepted(events);
    }
    assertThat(port.getParent()).isEmptyDirectory();
  }

  @Test
  void saysUnknownWhenTheHeadWasSwitchedOffMeanwhile() throws IOException, InterruptedException {
    long intent;
    try (LiveRig rig = bench.rig(5)) {
      intent = killedInMidPulse(rig);
    }
    try (LiveRig again = bench.rig(6)) {
      List<LedgerEvent> events = goesOnToTheNextPulse(again);

      ActEvent.PulseEnded end = endOf(intent, events);
      assertThat(end.outcome()).isEqualTo("unknown");
      assertThat(end.why()).contains("the program ended in the middle of it");
      assertThat(
              events.stream()
                  .filter(LedgerEvent.HeadSeen.class::isInstance)
                  .map(event -> ((LedgerEvent.HeadSeen) event).bootId()))
          .as("two runs of the head")
          .hasSize(2)
          .doesNotHaveDuplicates();
      assertBeganAgain(events);
    }
    assertThat(port.getParent()).isEmptyDirectory();
  }
}
