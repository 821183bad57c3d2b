package lodestep.powerloss;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.config.RigKind;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.powerloss.DiskTrace.WindowAsked;
import lodestep.powerloss.TracedDisk.Failure;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: whichever write, sync, truncation, creation or deletion of the ledger's files fails, once
 * or for ever, nothing is fired afterwards without a record, the program says in one sentence what
 * is wrong, and the ledger opens whole with every pulse that was asked for. Method: the real
 * program on a serial line, with a library between it and the disk.
 */
class FailingDiskTest {

  private static final LedgerBinding BINDING =
      new LedgerBinding("reference rig on a line", RigKind.VIRTUAL);

  private static final int DONE = 0;
  private static final int BAD_INPUT = 2;
  private static final int TRIPPED = 3;

  private final Path scratch;

  FailingDiskTest(@TempDir Path scratch) {
    this.scratch = scratch;
  }

  /** A failure of each kind at moments spread over the run; the rest has a command of its own. */
  @Test
  @Timeout(600)
  void firesNothingWithoutARecordWhereverTheDiskFails() throws IOException, InterruptedException {
    Map<Integer, Integer> ends = new TreeMap<>();
    int run = 0;
    for (long operation : List.of(3L, 17L, 40L, 83L, 110L, 151L)) {
      Failure failure = Failure.values()[run % Failure.values().length];
      ends.merge(failAt(operation, run % 2 == 0, failure), 1, Integer::sum);
      run++;
    }
    assertThat(ends.keySet()).as("both refused at the start and tripped").contains(2, 3);
  }

  /** Every operation of the run, each once and for ever. */
  @Test
  @Tag("powercut")
  void firesNothingWithoutARecordAtEveryOperation() throws IOException, InterruptedException {
    long operations = failed(Long.MAX_VALUE, false, Failure.IO).trace().changes();
    Map<Integer, Integer> ends = new TreeMap<>();
    for (long operation = 1; operation <= operations; operation++) {
      for (boolean forEver : List.of(false, true)) {
        ends.merge(failAt(operation, forEver, Failure.IO), 1, Integer::sum);
      }
    }
    System.out.printf(
        "%d operations failed once and for ever; ends by exit code: %s%n", operations, ends);
  }

  /** A run with a failure, and what it did. */
  private record Run(TracedBatch.Ended ended, DiskTrace trace, TracedBatch batch) {}

  private Run failed(long operation, boolean forEver, Failure failure)
      throws IOException, InterruptedException {
    Path folder = Files.createTempDirectory(scratch, "run");
    TracedBatch batch = new TracedBatch(folder, TracedDisk.builtIn(folder));
    ProcessBuilder program = batch.onALine(1);
    batch.disk().trace(program, folder.resolve("trace"));
    TracedDisk.fail(program, operation, forEver, failure);
    TracedBatch.Ended ended = TracedBatch.run(program);
    return new Run(ended, DiskTrace.read(folder.resolve("trace")), batch);
  }

  private int failAt(long operation, boolean forEver, Failure failure)
      throws IOException, InterruptedException {
    Run run = failed(operation, forEver, failure);
    String when = failure + (forEver ? " from" : " at") + " operation " + operation;
    int exit = run.ended().exitCode();
    String said = when + ": exit " + exit + "\n" + run.ended().said() + run.ended().output();

    List<Long> pulses = new ArrayList<>();
    List<Long> pulsesAfter = new ArrayList<>();
    boolean over = false;
    for (DiskTrace.Step step : run.trace().steps()) {
      over |= step instanceof DiskTrace.Failed;
      if (step instanceof WindowAsked asked) {
        (over ? pulsesAfter : pulses).add(asked.intent());
      }
    }
    assertThat(over).as("the failure came, %s", said).isTrue();
    assertThat(exit).as(said).isIn(DONE, BAD_INPUT, TRIPPED);
    if (exit != DONE) {
      assertThat(pulsesAfter).as("pulses after the failure, %s", said).isEmpty();
      assertThat(run.ended().said() + run.ended().output()).as(said).contains("ledger");
    }
    if (exit == BAD_INPUT) {
      // Refused at the start; or the batch was over, and the entry of its end is not on the disk.
      boolean batchOver = run.ended().output().contains("1 of 1  rod          accepted");
      assertThat(pulses.isEmpty() || batchOver).as(said).isTrue();
      assertThat(run.ended().said().lines().filter(line -> line.startsWith("lodestep: ")))
          .as(said)
          .hasSize(1);
    }
    pulses.addAll(pulsesAfter);
    checkLedger(run.batch().ledger(), pulses, said);
    return exit;
  }

  /** Opens it on a disk that is well again. */
  private static void checkLedger(Path ledger, List<Long> pulses, String when) {
    try (SqliteStore store = SqliteStore.open(ledger, BINDING, 0, Instant.EPOCH)) {
      assertThat(Proof.of(store, List.of())).as(when).isInstanceOf(Proof.Result.Whole.class);
      List<Long> intents = new ArrayList<>();
      store.forEachOfKind(
          EventCodec.kind(ActEvent.PulseIntended.class), stored -> intents.add(stored.number()));
      assertThat(intents).as(when).containsAll(pulses);
    }
  }
}
