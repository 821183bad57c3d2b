package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.app.remote.LiveRig;
import lodestep.ledger.OpenWork;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Goal: the system's signals and a second program find the real program as safe as its own errors
 * do. Method: the program in real time on a real rig's description, with bench and head in a
 * process of their own behind socat; SIGTERM, SIGSTOP and SIGCONT as the system sends them. Each
 * step waits for what rig and program show and for no time, and a trip that a busy machine adds
 * changes nothing.
 */
@Timeout(600)
class SignalledProgramTest {

  /** 128 and the signal's number: what a shell, or a service manager, sees of SIGTERM. */
  private static final int TERMINATED = 128 + 15;

  private static final int BAD_INPUT = 2;

  private final RealTimeBench bench;

  SignalledProgramTest(@TempDir Path folder, @TempDir Path lineFolder) {
    this.bench = RealTimeBench.in(folder, lineFolder);
  }

  @AfterEach
  void endWhatAFailedTestHasLeft() {
    bench.close();
  }

  private List<TripCause> trips() {
    return bench.events().stream()
        .filter(LedgerEvent.Tripped.class::isInstance)
        .map(event -> TripCause.of(((LedgerEvent.Tripped) event).code()).orElseThrow())
        .toList();
  }

  private static boolean bled(LiveRig rig) {
    return rig.read(0).closed(InputLine.BLEED_CONTACT);
  }

  /** One run for all of it, since each takes as long as a person at the bench. */
  @Test
  void standsASecondProgramAndALongStopAndEndsInOrderWhileItFills()
      throws IOException, InterruptedException {
    try (LiveRig rig = bench.rig(5)) {
      HostProcess host = bench.host(rig, "", "batch", bench.plan().toString());
      host.awaitRaised(OutputLine.LAMP_READY);

      refusesASecond();

      stopWhileTheBankIsHeld(host);
      Polling.until("the head to let go", () -> bled(rig));
      assertThat(host.standing().isHigh(OutputLine.BANK_HOLD))
          .as("the head alone has let go: the pins stand")
          .isTrue();
      host.signal("CONT");
      // What was raised as it was stopped may still be told after it: only what comes after its
      // trip is on record is a new fill.
      Polling.until("the late scan to be on record", () -> !trips().isEmpty());
      host.forgetRaised();
      host.awaitRaised(OutputLine.BANK_FILL);

      host.signal("TERM");

      assertEndedInOrder(rig, host);
      assertThat(trips()).contains(TripCause.SCAN_LATE);
    }
  }

  /** On the same port and the same ledger; the first one knows nothing of it. */
  private void refusesASecond() throws IOException, InterruptedException {
    try (LiveRig nothing = LiveRig.startEcho(bench.port().resolveSibling("other"))) {
      HostProcess second = bench.host(nothing, "", "batch", bench.plan().toString());

      assertThat(second.ended()).as("said: %s", second.said()).isEqualTo(BAD_INPUT);

      assertThat(second.said())
          .filteredOn(line -> line.startsWith("lodestep: "))
          .singleElement()
          .asString()
          .contains(bench.port().toString(), "use");
    }
  }

  /** Stopped between two readings it holds nothing; then it is let go, and caught again. */
  private static void stopWhileTheBankIsHeld(HostProcess host) {
    boolean held = false;
    while (!held) {
      host.forgetRaised();
      // It fills only with the bleed open: that it closes afterwards is the head's doing.
      host.awaitRaised(OutputLine.BANK_FILL);
      host.stopProcess();
      held = host.standing().isHigh(OutputLine.BANK_FILL);
      if (!held) {
        host.signal("CONT");
      }
    }
  }

  @ParameterizedTest
  @Tag("signals")
  @EnumSource(
      value = OutputLine.class,
      names = {"LAMP_READY", "LAMP_BUSY", "BANK_HOLD", "BANK_FILL", "COIL_FULL", "COIL_FIRE"})
  void endsInOrderWhenAskedTo(OutputLine raised) throws IOException, InterruptedException {
    try (LiveRig rig = bench.rig(5)) {
      HostProcess host = bench.host(rig, "", "batch", bench.plan().toString());
      host.awaitRaised(raised);

      host.signal("TERM");

      assertEndedInOrder(rig, host);
    }
  }

  private void assertEndedInOrder(LiveRig rig, HostProcess host) throws InterruptedException {
    assertThat(host.ended()).as("said: %s", host.said()).isEqualTo(TERMINATED);
    assertThat(host.standing()).as("driven by itself, not fallen").isEqualTo(Outputs.ALL_LOW);
    Polling.until("the bank to be bled", () -> bled(rig));
    List<LedgerEvent> events = bench.events();
    assertThat(trips()).endsWith(TripCause.STOP_ASKED);
    assertThat(events.get(events.size() - 1))
        .isEqualTo(new LedgerEvent.ProgramStopped("stopped before the batch was over"));
    try (SqliteArchive archive = SqliteArchive.open(bench.ledger())) {
      assertThat(OpenWork.of(archive).intents()).as("open pulses").isEmpty();
      assertThat(OpenWork.of(archive).magnets()).as("open attempts").isEmpty();
    }
  }
}
