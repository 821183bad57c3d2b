package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.locks.LockSupport;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.serial.SerialHeadLink;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.app.remote.LiveRig;
import lodestep.app.remote.RigOrder;
import lodestep.config.RigConfig;
import lodestep.ledger.EventCodec;
import lodestep.ledger.OpenWork;
import lodestep.ledger.Proof;
import lodestep.magnet.Shape;
import lodestep.port.ActEvent;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.Length;
import lodestep.sim.StockPiece;
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

  private static final String PLAN =
      """
      name,alloy,shape,size,nest,pole up,target,tolerance
      wire,alnico 5,rod,4.9 x 16.5 mm,rod nest,north,640 G,40 G
      """;

  private static final long LOOK_NS = 500_000L;

  private final Path folder;
  private final Path port;
  private final Path ledger;
  private final List<Host> hosts = new ArrayList<>();

  RingAskedOverWiresTest(@TempDir Path folder, @TempDir Path lineFolder) {
    this.folder = folder;
    this.port = lineFolder.resolve("head");
    this.ledger = folder.resolve("bench.ledger");
  }

  @AfterEach
  void endWhatAFailedTestHasLeft() {
    hosts.forEach(host -> host.process.destroyForcibly());
  }

  private Path rigFile() throws IOException {
    Path repository = Path.of(System.getProperty("lodestep.repository", ""));
    String example = Files.readString(repository.resolve("firmware-host/board/rig-real-coil.toml"));
    assertThat(example).contains("/dev/lodestep-head", "kind = \"real\"");
    return Files.writeString(
        folder.resolve("rig.toml"), example.replace("/dev/lodestep-head", port.toString()));
  }

  private LiveRig bench(long seed) throws IOException {
    RigConfig rig =
        RigSource.read(Optional.of(rigFile()))
            .match(
                good -> good,
                problems -> {
                  throw new AssertionError(problems);
                });
    Shape rod = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
    StockPiece piece = new StockPiece("alnico 5", rod, true, false, 3, 4, "rod nest", List.of());
    return LiveRig.start(new RigOrder(rig, "rod nest", seed, seed + 1, List.of(piece)));
  }

  /** The program, with the bench's contacts and outputs at its pins. */
  private final class Host {
    private final Process process;
    private final Writer in;
    private final CountDownLatch fired = new CountDownLatch(1);
    private final List<String> said = Collections.synchronizedList(new ArrayList<>());
    private final Thread out;

    Host(LiveRig rig, String freezeAt, String... arguments) throws IOException {
      List<String> command =
          new ArrayList<>(
              List.of(
                  Path.of(System.getProperty("java.home", ""), "bin", "java").toString(),
                  "-XX:TieredStopAtLevel=1",
                  "-Dlodestep.test.freeze=" + freezeAt,
                  "-cp",
                  System.getProperty("java.class.path", ""),
                  PinsOnAPipe.class.getName()));
      command.addAll(List.of(arguments));
      command.addAll(List.of("--rig", rigFile().toString(), "--ledger", ledger.toString()));
      this.process = new ProcessBuilder(command).redirectErrorStream(true).start();
      this.in = process.outputWriter(StandardCharsets.UTF_8);
      hosts.add(this);
      rig.onContinue(() -> send("continue"));
      this.out = begin("host-said", () -> hear(rig));
      begin("host-contacts", () -> tell(rig));
    }

    private static Thread begin(String name, Runnable work) {
      Thread thread = new Thread(work, name);
      thread.setDaemon(true);
      thread.start();
      return thread;
    }

    private synchronized void send(String line) {
      try {
        in.write(line + "\n");
        in.flush();
      } catch (IOException gone) {
        // Its end is seen by whoever waits for it.
      }
    }

    private void tell(LiveRig rig) {
      int told = -1;
      while (process.isAlive()) {
        int stands = rig.read(0).closedBits();
        if (stands != told) {
          told = stands;
          send("stands " + stands);
        }
        LockSupport.parkNanos(LOOK_NS);
      }
    }

    private void hear(LiveRig rig) {
      try (BufferedReader lines = process.inputReader(StandardCharsets.UTF_8)) {
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
          if (line.startsWith("drive ")) {
            Outputs outputs = new Outputs(Integer.parseInt(line.substring(6)));
            rig.drive(outputs);
            if (outputs.isHigh(OutputLine.COIL_FIRE)) {
              fired.countDown();
            }
          } else {
            said.add(line);
          }
        }
      } catch (IOException ended) {
        said.add("(its output broke)");
      }
      // As a board's pins fall when the program that held them is gone.
      rig.drive(Outputs.ALL_LOW);
      fired.countDown();
    }

    int ended() throws InterruptedException {
      int code = process.waitFor();
      out.join();
      return code;
    }
  }

  /**
   * Kills the program in the scan that fires the first charge. The head then misses its heartbeat
   * and lets go by itself, which the bleed contact shows: by then the pulse is over.
   *
   * @return the number of the intent that is left open
   */
  private long killedInMidPulse(LiveRig rig) throws IOException, InterruptedException {
    Path plan = Files.writeString(folder.resolve("plan.csv"), PLAN);
    Host host = new Host(rig, OutputLine.COIL_FIRE.name(), "batch", plan.toString());
    host.fired.await();
    assertThat(host.process.isAlive()).as("said: %s", host.said).isTrue();
    Polling.until("the head to let go", () -> rig.read(0).closed(InputLine.BLEED_CONTACT));

    host.process.destroyForcibly();

    assertThat(host.ended()).as("killed, SIGKILL").isEqualTo(128 + 9);
    try (SqliteArchive archive = SqliteArchive.open(ledger)) {
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
    Host host = new Host(rig, "", "batch", "--continue");
    assertThat(host.ended()).as("said: %s", host.said).isZero();
    assertThat(host.said).anyMatch(line -> line.contains("1 accepted, 0 refused"));
    List<LedgerEvent> events = new ArrayList<>();
    try (SqliteArchive archive = SqliteArchive.open(ledger)) {
      assertThat(Proof.of(archive, List.of())).isInstanceOf(Proof.Result.Whole.class);
      archive.forEach(
          1, archive.newest().number(), stored -> events.add(EventCodec.decode(stored).event()));
    }
    return events;
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
    assertThat(events)
        .filteredOn(LedgerEvent.VerdictGiven.class::isInstance)
        .extracting(event -> ((LedgerEvent.VerdictGiven) event).verdict())
        .startsWith("tripped")
        .endsWith("accepted");
    assertThat(events.stream().filter(LedgerEvent.ProgramStarted.class::isInstance)).hasSize(2);
  }

  @Test
  void takesTheOutcomeFromTheRingOfTheHeadThatLivedOn() throws IOException, InterruptedException {
    try (LiveRig rig = bench(5)) {
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
    try (LiveRig rig = bench(5)) {
      intent = killedInMidPulse(rig);
    }
    try (LiveRig again = bench(6)) {
      List<LedgerEvent> events = goesOnToTheEnd(again);

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
      assertBeganAgainAndAccepted(events);
    }
    assertThat(port.getParent()).isEmptyDirectory();
  }
}
