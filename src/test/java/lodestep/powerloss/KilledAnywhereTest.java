package lodestep.powerloss;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
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
 * program loses no verdict it told of and leaves no pulse unexplained, the head lets go of the
 * permit by itself in time, and the batch comes to its end. Method: the real program on a serial
 * line kills itself at a drawn moment; its rig goes on alone and tells what became of it; then the
 * program goes on.
 */
class KilledAnywhereTest {

  private static final long SEED = 20_261_104L;
  private static final LedgerBinding BINDING =
      new LedgerBinding("reference rig on a line", RigKind.VIRTUAL);

  /** From the death of the host to the permit's open contact; PROTOCOL.md, "Timing". */
  private static final int PERMIT_OPEN_MS = 250;

  /** Low enough for hands five seconds after any stop; safety/invariants.md, INV-10. */
  private static final double LOW_VOLTS = 10.05;

  /** What the rig tells of a host that is simply gone. */
  private static final Pattern GONE =
      Pattern.compile(
          "gone permit ([01]) bank ([-.0-9]+); permit open after (-?\\d+), bank highest ([-.0-9]+),"
              + " ([-.0-9]+) at the end, fired (\\d+)");

  /** What 128 + SIGKILL gives. */
  private static final int KILLED = 137;

  private final Path scratch;

  KilledAnywhereTest(@TempDir Path scratch) {
    this.scratch = scratch;
  }

  /** What became of the rigs whose hosts were killed. */
  private static final class Left {
    private int rigs;
    private int held;
    private int openAfterMsMax;
    private int filled;
    private int fired;

    void add(String said) {
      Matcher told = GONE.matcher(said);
      assertThat(told.matches()).as(said).isTrue();
      int openAfterMs = Integer.parseInt(told.group(3));
      double volts = Double.parseDouble(told.group(2));
      assertThat(openAfterMs).as(said).isBetween(0, PERMIT_OPEN_MS);
      assertThat(Double.parseDouble(told.group(5))).as(said).isLessThanOrEqualTo(LOW_VOLTS);
      assertThat(Integer.parseInt(told.group(6))).as(said).isLessThanOrEqualTo(1);
      rigs++;
      held += Integer.parseInt(told.group(1));
      openAfterMsMax = Math.max(openAfterMsMax, openAfterMs);
      filled += volts > LOW_VOLTS ? 1 : 0;
      fired += Integer.parseInt(told.group(6));
    }

    @Override
    public String toString() {
      return String.format(
          Locale.ROOT,
          "%d rigs left alone, %d with the permit held and %d with a filled bank; permit open after"
              + " %d ms at most, %d pulses after the host's death",
          rigs,
          held,
          filled,
          openAfterMsMax,
          fired);
    }
  }

  @Test
  @Timeout(600)
  void losesNothingInAFewKills() throws IOException, InterruptedException {
    Left left = new Left();

    assertThat(killAndGoOn(SEED, 6, 3, left)).isEqualTo(6);

    assertThat(left.held).as(left.toString()).isPositive();
  }

  @Test
  @Tag("powercut")
  void losesNothingInAThousandKills() throws IOException, InterruptedException {
    int kills = 0;
    Left left = new Left();
    for (int round = 0; kills < 1_000; round++) {
      Path folder = Files.createDirectory(scratch.resolve("round-" + round));
      kills += new KilledAnywhereTest(folder).killAndGoOn(SEED + round, 40, 12, left);
      System.out.printf("%d kills: 0 verdicts lost, 0 pulses unexplained; %s%n", kills, left);
    }
  }

  /** Kills up to so many times, then lets the batch end; how often it was killed. */
  private int killAndGoOn(long seed, int killsMax, int rods, Left left)
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
        TracedDisk.killAfterSayings(program, random.nextLong(10, 6_000));
      }
      TracedBatch.Ended ended = TracedBatch.run(program);
      DiskTrace did = DiskTrace.read(trace);
      for (DiskTrace.Step step : did.steps()) {
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
      if (did.spoke()) {
        left.add(batch.rigSaid());
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
