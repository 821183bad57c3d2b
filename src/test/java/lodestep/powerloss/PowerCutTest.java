package lodestep.powerloss;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.config.RigKind;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;
import lodestep.powerloss.CrashingDisk.Cache;
import lodestep.powerloss.DiskTrace.Disk;
import lodestep.powerloss.DiskTrace.VerdictsTold;
import lodestep.powerloss.DiskTrace.WindowAsked;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the power may go at any moment, and no pulse is without its row, no verdict that was told
 * is lost, and the record is whole. Method: a batch of the real program on a serial line is written
 * down once, with all its writes and syncs and what it said to head and person between them; then
 * for each beginning of that story the disk is laid out as a power cut there leaves it, and the
 * ledger is opened as the program opens it.
 */
class PowerCutTest {

  private static final long SEED = 20_260_811L;
  private static final LedgerBinding BINDING =
      new LedgerBinding("reference rig on a line", RigKind.VIRTUAL);

  /** Where the disks of a power cut are laid out: in memory where there is such a folder. */
  private static final Path MEMORY = Path.of("/dev/shm");

  private final Path scratch;
  private final Path disks;

  PowerCutTest(@TempDir Path scratch) throws IOException {
    this.scratch = scratch;
    this.disks = Files.isWritable(MEMORY) ? Files.createTempDirectory(MEMORY, "lodestep") : scratch;
  }

  @AfterEach
  void clear() throws IOException {
    if (Files.exists(disks)) {
      delete(disks);
    }
  }

  @Test
  @Timeout(600)
  void losesNothingInABatchOfTwo() throws IOException, InterruptedException {
    Tally tally = cutEverywhere(2);

    assertThat(tally.prefixes).isGreaterThan(200);
    assertThat(tally.windows).as("pulses asked for").isGreaterThan(6);
    assertThat(tally.verdicts).isEqualTo(2);
  }

  /** The whole of it: ten thousand moments and more. */
  @Test
  @Tag("powercut")
  void losesNothingAtTenThousandMoments() throws IOException, InterruptedException {
    Tally tally = cutEverywhere(80);

    assertThat(tally.prefixes).isGreaterThanOrEqualTo(10_000);
    assertThat(tally.verdicts).isEqualTo(80);
    System.out.printf(
        "power cut at %d moments, %d disks opened, %d pulses asked for, %d verdicts told: 0 lost%n",
        tally.prefixes, tally.opened, tally.windows, tally.verdicts);
  }

  /** A planted fault: a program that told of a pulse before it was on disk would be found out. */
  @Test
  void findsAPulseAskedForBeforeItsRowIsDurable() throws IOException, InterruptedException {
    DiskTrace trace = traced(1);
    int asked = indexOfFirst(trace, WindowAsked.class);
    List<DiskTrace.Step> early = new ArrayList<>(trace.steps());
    DiskTrace.Step window = early.remove(asked);
    // Before the sync of the commit that holds the intent, and so before it is durable; the row of
    // the bank's proof has come after it.
    early.add(syncBefore(early, syncBefore(early, asked)), window);

    Tally tally = new Tally();
    boolean found = false;
    try {
      play(new DiskTrace(early, true), tally);
    } catch (AssertionError violation) {
      found = String.valueOf(violation.getMessage()).contains("no row");
    }
    assertThat(found).isTrue();
  }

  private static int syncBefore(List<DiskTrace.Step> steps, int index) {
    int sync = index - 1;
    while (!(steps.get(sync) instanceof Disk disk && disk.kind() == DiskTrace.Kind.SYNC_FILE)) {
      sync--;
    }
    return sync;
  }

  private static int indexOfFirst(DiskTrace trace, Class<?> kind) {
    for (int i = 0; i < trace.steps().size(); i++) {
      if (kind.isInstance(trace.steps().get(i))) {
        return i;
      }
    }
    return fail("the trace has no " + kind.getSimpleName());
  }

  /** What was tried. */
  private static final class Tally {
    private int prefixes;
    private int opened;
    private int windows;
    private int verdicts;
  }

  private Tally cutEverywhere(int rods) throws IOException, InterruptedException {
    Tally tally = new Tally();
    play(traced(rods), tally);
    return tally;
  }

  private DiskTrace traced(int rods) throws IOException, InterruptedException {
    TracedBatch batch = new TracedBatch(scratch, TracedDisk.builtIn(scratch));
    ProcessBuilder program = batch.onALine(rods);
    Path trace = scratch.resolve("trace");
    batch.disk().trace(program, trace);
    TracedBatch.Ended ended = TracedBatch.run(program);
    assertThat(ended.exitCode()).as(ended.said()).isZero();
    return DiskTrace.read(trace);
  }

  private void play(DiskTrace trace, Tally tally) throws IOException {
    CrashingDisk disk = new CrashingDisk();
    SplittableRandom random = new SplittableRandom(SEED);
    Map<Cache, Map<String, byte[]>> tried = new HashMap<>();
    long intent = 0;
    int told = 0;
    for (DiskTrace.Step step : trace.steps()) {
      if (step instanceof WindowAsked asked) {
        intent = Math.max(intent, asked.intent());
        tally.windows++;
      } else if (step instanceof VerdictsTold verdicts) {
        told = verdicts.count();
        tally.verdicts = told;
      } else if (step instanceof Disk change) {
        disk.apply(change);
        tally.prefixes++;
      }
      // What is said counts at once: the power may go before the next change of the disk.
      for (Cache cache : Cache.values()) {
        Map<String, byte[]> files = disk.after(cache, random);
        boolean said = !(step instanceof Disk);
        if (said || !same(files, tried.get(cache))) {
          open(files, intent, told, cache + " after change " + tally.prefixes);
          tally.opened++;
          tried.put(cache, files);
        }
      }
    }
  }

  private static boolean same(Map<String, byte[]> files, @Nullable Map<String, byte[]> other) {
    return other != null
        && files.keySet().equals(other.keySet())
        && files.keySet().stream()
            .allMatch(name -> Arrays.equals(files.get(name), other.get(name)));
  }

  /** Opens what is left as the program does at its next start. */
  private void open(Map<String, byte[]> files, long intent, int told, String when)
      throws IOException {
    Path left = Files.createDirectory(disks.resolve("left"));
    CrashingDisk.write(files, left);
    try (SqliteStore store =
        SqliteStore.open(left.resolve("bench.ledger"), BINDING, 0, Instant.EPOCH)) {
      assertThat(Proof.of(store, List.of())).as(when).isInstanceOf(Proof.Result.Whole.class);
      assertThat(verdicts(store)).as("verdicts, %s", when).isGreaterThanOrEqualTo(told);
      if (intent > 0) {
        assertThat(isIntent(store, intent))
            .as("no row of the pulse %d that was asked for, %s", intent, when)
            .isTrue();
      }
    } catch (LedgerException refused) {
      fail(when + ": " + refused.sentence(), refused);
    } finally {
      delete(left);
    }
  }

  private static boolean isIntent(SqliteStore store, long number) {
    boolean[] found = {false};
    store.forEach(
        number,
        number,
        stored -> found[0] = EventCodec.decode(stored).event() instanceof ActEvent.PulseIntended);
    return found[0];
  }

  private static int verdicts(SqliteStore store) {
    Collection<StoredEvent> verdicts = new ArrayList<>();
    store.forEachOfKind(EventCodec.kind(LedgerEvent.VerdictGiven.class), verdicts::add);
    return verdicts.size();
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path path : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(path);
      }
    }
  }
}
