package lodestep.powerloss;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeSet;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.config.RigKind;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.OpenWork;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: killed outright at any change of its disk and any word to the head, again and again, the
 * program loses no verdict it told of and leaves no pulse unexplained, and the batch comes to its
 * end. Method: the real program on a serial line kills itself at a drawn moment; then it goes on.
 */
class KilledAnywhereTest {

  private static final long SEED = 20_261_104L;
  private static final LedgerBinding BINDING =
      new LedgerBinding("reference rig on a line", RigKind.VIRTUAL);

  /** What 128 + SIGKILL gives. */
  private static final int KILLED = 137;

  private final Path scratch;

  KilledAnywhereTest(@TempDir Path scratch) {
    this.scratch = scratch;
  }

  @Test
  @Timeout(600)
  void losesNothingInAFewKills() throws IOException, InterruptedException {
    assertThat(killAndGoOn(SEED, 6, 3)).isEqualTo(6);
  }

  @Test
  @Tag("powercut")
  void losesNothingInAThousandKills() throws IOException, InterruptedException {
    int kills = 0;
    for (int round = 0; kills < 1_000; round++) {
      Path folder = Files.createDirectory(scratch.resolve("round-" + round));
      kills += new KilledAnywhereTest(folder).killAndGoOn(SEED + round, 40, 12);
    }
    System.out.printf("%d kills: 0 verdicts lost, 0 pulses unexplained%n", kills);
  }

  /** Kills up to so many times, then lets the batch end; how often it was killed. */
  private int killAndGoOn(long seed, int killsMax, int rods)
      throws IOException, InterruptedException {
    TracedBatch batch = new TracedBatch(scratch, TracedDisk.builtIn(scratch));
    SplittableRandom random = new SplittableRandom(seed);
    Set<Long> asked = new TreeSet<>();
    int kills = 0;
    int told = 0;
    boolean begun = false;
    while (true) {
      ProcessBuilder program = begun ? batch.goOn() : batch.onALine(rods);
      Path trace = scratch.resolve("trace-" + kills);
      batch.disk().trace(program, trace);
      if (kills < killsMax && random.nextBoolean()) {
        TracedDisk.killAfterChanges(program, random.nextLong(20, 140));
      } else if (kills < killsMax) {
        TracedDisk.killAfterSayings(program, random.nextLong(10, 1_500));
      }
      TracedBatch.Ended ended = TracedBatch.run(program);
      for (DiskTrace.Step step : DiskTrace.read(trace).steps()) {
        if (step instanceof DiskTrace.WindowAsked window) {
          asked.add(window.intent());
        } else if (step instanceof DiskTrace.VerdictsTold verdicts) {
          told = Math.max(told, verdicts.count());
        }
      }
      Files.delete(trace);
      begun = check(batch, asked, told);
      if (ended.exitCode() != KILLED) {
        assertThat(ended.exitCode()).as(ended.said()).isZero();
        assertThat(ended.output()).contains(rods + " accepted, 0 refused");
        return kills;
      }
      kills++;
    }
  }

  /** What the next start finds; whether there is a batch to go on with. */
  private static boolean check(TracedBatch batch, Set<Long> asked, int told) {
    boolean[] begun = {false};
    if (!Files.exists(batch.ledger())) {
      assertThat(asked).isEmpty();
      return false;
    }
    try (SqliteStore store = SqliteStore.open(batch.ledger(), BINDING, 0, Instant.EPOCH)) {
      assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
      TreeSet<Long> intents = new TreeSet<>();
      TreeSet<Long> ended = new TreeSet<>();
      int[] verdicts = {0};
      store.forEach(
          1,
          store.newest().number(),
          stored -> {
            LedgerEvent event = EventCodec.decode(stored).event();
            begun[0] |= event instanceof LedgerEvent.BatchStarted;
            if (event instanceof ActEvent.PulseIntended) {
              intents.add(stored.number());
            } else if (event instanceof ActEvent.PulseEnded end) {
              assertThat(ended.add(end.intent())).as("one end for each intent").isTrue();
            } else if (event instanceof LedgerEvent.VerdictGiven) {
              verdicts[0]++;
            }
          });
      assertThat(intents).as("a row of each pulse asked for").containsAll(asked);
      assertThat(verdicts[0]).as("verdicts told").isGreaterThanOrEqualTo(told);
      intents.removeAll(ended);
      assertThat(OpenWork.of(store).intents().keySet()).isEqualTo(intents);
      assertThat(intents).as("at most the newest pulse is open").hasSizeLessThanOrEqualTo(1);
    }
    return begun[0];
  }
}
