package lodestep.launch;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.bench.Continuation;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.OpenWork;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the program killed outright, wherever it stands, leaves a whole record, and is asked to go
 * on by one command. Method: a batch is killed as soon as it says something, thrice; whether that
 * falls into a filling, a pulse or a write is left to chance, and nothing is expected of it.
 */
@Timeout(300)
class KilledProgramTest {

  private final Lodestep lodestep;

  KilledProgramTest(@TempDir Path folder) {
    this.lodestep = new Lodestep(folder);
  }

  @Test
  void goesOnAfterEachKillAndEndsWithAWholeRecord() throws IOException, InterruptedException {
    String ledger = lodestep.ledger().toString();
    String plan = lodestep.plan().toString();
    int cutOff = 0;
    Set<Long> cutPulses = new TreeSet<>();
    for (String said : List.of("1 of 6", "VIRTUAL", " of 6")) {
      if (leftOpen()) {
        killOnceItSays(said, "batch", "--continue", "--ledger", ledger);
      } else {
        killOnceItSays(said, "batch", plan, "--ledger", ledger);
      }
      Ending proof = lodestep.prove();
      assertThat(proof.output()).startsWith("whole");
      assertThat(proof.exitCode()).isZero();
      cutOff += leftOpen() ? 1 : 0;
      cutPulses.addAll(openPulses());
    }
    assertThat(cutOff).as("kills before the batch was over").isPositive();

    if (leftOpen()) {
      Ending end = lodestep.goOn();
      assertThat(end.exitCode()).as(end.said()).isZero();
      assertThat(end.output()).contains("6 accepted, 0 refused, 0 recharge needed, 0 open");
    }
    checkRecord(cutPulses);
    assertThat(lodestep.prove().output()).startsWith("whole");
    Ending nothingLeft = lodestep.goOn();
    assertThat(nothingLeft.exitCode()).isEqualTo(2);
    assertThat(nothingLeft.said()).contains("no batch left open").hasLineCount(1);
  }

  /** Kills it as {@code kill -9} does: nothing of it runs afterwards. */
  private void killOnceItSays(String said, String... arguments)
      throws IOException, InterruptedException {
    Process process = lodestep.start(arguments);
    try (BufferedReader lines = process.inputReader(StandardCharsets.UTF_8)) {
      String line = lines.readLine();
      while (line != null && !line.contains(said)) {
        line = lines.readLine();
      }
      process.toHandle().destroyForcibly();
    }
    process.waitFor();
  }

  private boolean leftOpen() {
    if (!lodestep.ledger().toFile().exists()) {
      return false;
    }
    try (SqliteArchive archive = SqliteArchive.open(lodestep.ledger())) {
      return Continuation.of(archive).isPresent();
    }
  }

  /** Numbers, since a pulse that a kill left open is still open when the next start is killed. */
  private Set<Long> openPulses() {
    try (SqliteArchive archive = SqliteArchive.open(lodestep.ledger())) {
      return Set.copyOf(OpenWork.of(archive).intents().keySet());
    }
  }

  private void checkRecord(Set<Long> cutPulses) {
    List<Long> intents = new ArrayList<>();
    List<ActEvent.PulseEnded> ends = new ArrayList<>();
    List<LedgerEvent.VerdictGiven> verdicts = new ArrayList<>();
    try (SqliteArchive archive = SqliteArchive.open(lodestep.ledger())) {
      archive.forEach(
          1,
          archive.newest().number(),
          stored -> {
            LedgerEntry entry = EventCodec.decode(stored);
            if (entry.event() instanceof ActEvent.PulseIntended) {
              intents.add(entry.number());
            } else if (entry.event() instanceof ActEvent.PulseEnded end) {
              ends.add(end);
            } else if (entry.event() instanceof LedgerEvent.VerdictGiven verdict) {
              verdicts.add(verdict);
            }
          });
    }
    assertThat(ends).extracting(ActEvent.PulseEnded::intent).containsExactlyElementsOf(intents);
    assertThat(ends)
        .filteredOn(end -> end.outcome().equals("unknown"))
        .extracting(ActEvent.PulseEnded::intent)
        .as("pulses a kill has cut, and no other")
        .containsExactlyInAnyOrderElementsOf(cutPulses);
    assertThat(verdicts)
        .filteredOn(verdict -> verdict.verdict().equals("accepted"))
        .extracting(LedgerEvent.VerdictGiven::magnet)
        .as("no magnet is dialed again once accepted")
        .doesNotHaveDuplicates();
  }
}
