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
 * Goal: killed outright, or asked to end, at any change of its disk and any word to the head, again
 * and again, the program loses no verdict it told of and leaves no pulse unexplained, the head lets
 * go of the permit by itself in time, and the batch comes to its end. Method: the real program on a
 * serial line sends itself the signal at a drawn moment; its rig goes on alone and tells what
 * became of it; then the program goes on.
 */
class KilledAnywhereTest {

  private static final long SEED = 20_261_104L;

  private static final int KILLS_OF_A_ROUND = 40;
  private static final LedgerBinding BINDING =
      new LedgerBinding("reference rig on a line", RigKind.VIRTUAL);

  /** From the death of the host to the permit's open contact; PROTOCOL.md, "Timing". */
  private static final int PERMIT_OPEN_MS = 250;

  /** Low enough for hands five seconds after any stop; safety/invariants.md, INV-10. */
  private static final double LOW_VOLTS = 10.05;

  /** What the rig tells of a host that has left it; see {@code RigAlone}. */
  private static final Pattern LEFT =
      Pattern.compile(
          "(ended|gone) outputs (\\d+) permit ([01]) bank ([-.0-9]+); permit open after (-?\\d+),"
              + " bank highest ([-.0-9]+), ([-.0-9]+) at the end, fired (\\d+)");

  /** How it is done away with. */
  private enum By {
    /** Outright. */
    SIGKILL(137, "gone"),
    /** Asked to end by the system, which it does in order. */
    SIGTERM(143, "ended");

    private final int exitCode;
    private final String told;

    By(int exitCode, String told) {
      this.exitCode = exitCode;
      this.told = told;
    }
  }

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

    void add(By by, String said) {
      Matcher told = LEFT.matcher(said);
      assertThat(told.matches()).as(said).isTrue();
      assertThat(told.group(1)).as(said).isEqualTo(by.told);
      int openAfterMs = Integer.parseInt(told.group(5));
      double volts = Double.parseDouble(told.group(4));
      int pulses = Integer.parseInt(told.group(8));
      assertThat(openAfterMs).as(said).isBetween(0, PERMIT_OPEN_MS);
      assertThat(Double.parseDouble(told.group(7))).as(said).isLessThanOrEqualTo(LOW_VOLTS);
      if (by == By.SIGTERM) {
        assertThat(told.group(2)).as("outputs of power, " + said).isEqualTo("0");
        assertThat(volts).as(said).isLessThanOrEqualTo(LOW_VOLTS);
        assertThat(pulses).as(said).isZero();
      }
      assertThat(pulses).as(said).isLessThanOrEqualTo(1);
      rigs++;
      held += Integer.parseInt(told.group(3));
      openAfterMsMax = Math.max(openAfterMsMax, openAfterMs);
      filled += volts > LOW_VOLTS ? 1 : 0;
      fired += pulses;
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
  void losesNothingInAFewKillsAndEnds() throws IOException, InterruptedException {
    Left left = new Left();

    int done = doneAwayWith(SEED, 6, 2, List.of(By.SIGKILL, By.SIGTERM), left);

    assertThat(done).isEqualTo(6);
    assertThat(left.rigs).as(left.toString()).isPositive();
  }

  @Test
  @Tag("powercut")
  void losesNothingInAThousandKills() throws IOException, InterruptedException {
    doneAwayWithOften(1_000, By.SIGKILL);
  }

  @Test
  @Tag("signals")
  void endsInOrderTwoHundredTimes() throws IOException, InterruptedException {
    doneAwayWithOften(200, By.SIGTERM);
  }

  /**
   * From the round that {@code -Dlodestep.kills.from} names: a run that was cut short goes on where
   * its last line said it was.
   */
  private void doneAwayWithOften(int times, By by) throws IOException, InterruptedException {
    int from = Integer.getInteger("lodestep.kills.from", 0);
    int done = from * KILLS_OF_A_ROUND;
    Left left = new Left();
    for (int round = from; done < times; round++) {
      Path folder = Files.createDirectory(scratch.resolve("round-" + round));
      KilledAnywhereTest one = new KilledAnywhereTest(folder);
      done += one.doneAwayWith(SEED + round, KILLS_OF_A_ROUND, 12, List.of(by), left);
      System.out.printf(
          "to round %d, %d times %s: 0 verdicts lost, 0 pulses unexplained; %s%n",
          round + 1, done, by, left);
    }
    if (by == By.SIGKILL) {
      assertThat(left.held).as(left.toString()).isGreaterThan(left.rigs / 20);
    }
  }

  /** Does away with it up to so many times, then lets the batch end; how often it was. */
  private int doneAwayWith(long seed, int timesMax, int rods, List<By> ways, Left left)
      throws IOException, InterruptedException {
    TracedBatch batch = new TracedBatch(scratch, TracedDisk.builtIn(scratch));
    SplittableRandom random = new SplittableRandom(seed);
    Told told = new Told();
    boolean begun = false;
    for (int times = 0; ; times++) {
      ProcessBuilder program = begun ? batch.goOn() : batch.onALine(rods);
      Path trace = scratch.resolve("trace-" + times);
      batch.disk().trace(program, trace);
      By by = ways.get(times % ways.size());
      if (times < timesMax) {
        aim(program, by, random);
      }
      TracedBatch.Ended ended = TracedBatch.run(program);
      DiskTrace did = DiskTrace.read(trace);
      Files.delete(trace);
      told.add(did);
      if (did.spoke()) {
        String said = batch.rigSaid();
        if (ended.exitCode() == by.exitCode) {
          left.add(by, said);
        }
      }
      begun = check(batch, told, ended.exitCode() == By.SIGKILL.exitCode);
      if (ended.exitCode() != by.exitCode) {
        assertThat(ended.exitCode()).as(ended.said()).isZero();
        assertThat(ended.output()).contains(rods + " accepted, 0 refused");
        return times;
      }
    }
  }

  private static void aim(ProcessBuilder program, By by, SplittableRandom random) {
    if (random.nextInt(3) > 0) {
      TracedDisk.killAfterChanges(program, random.nextLong(20, 140));
    } else {
      TracedDisk.killAfterSayings(program, random.nextLong(10, 6_000));
    }
    if (by == By.SIGTERM) {
      TracedDisk.askToEndInstead(program);
    }
  }

  /** What the world was told before each end. */
  private static final class Told {
    private final Set<Long> pulses = new TreeSet<>();
    private int verdicts;

    void add(DiskTrace did) {
      for (DiskTrace.Step step : did.steps()) {
        if (step instanceof DiskTrace.WindowAsked window) {
          pulses.add(window.intent());
        } else if (step instanceof DiskTrace.VerdictsTold given) {
          verdicts = Math.max(verdicts, given.count());
        }
      }
    }
  }

  /** What the next start finds; whether there is a batch to go on with. */
  private static boolean check(TracedBatch batch, Told told, boolean outright) {
    boolean[] begun = {false};
    if (!Files.exists(batch.ledger())) {
      assertThat(told.pulses).isEmpty();
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
      assertThat(intents).as("a row of each pulse asked for").containsAll(told.pulses);
      assertThat(verdicts[0]).as("verdicts told").isGreaterThanOrEqualTo(told.verdicts);
      intents.removeAll(ended);
      assertThat(OpenWork.of(store).intents().keySet()).isEqualTo(intents);
      assertThat(intents)
          .as("at most the newest pulse is open, and none after an end in order")
          .hasSizeLessThanOrEqualTo(outright ? 1 : 0);
    }
    return begun[0];
  }
}
