package lodestep.adapter.sqlite;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.config.RigKind;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.OpenWork;
import lodestep.ledger.Proof;
import lodestep.ledger.SampleEvents;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: a program killed at any moment loses no event it called durable, and the next start finds
 * the pulse that was open. Method: another process appends without end and reports how far it is
 * durable; it is killed after a drawn number of reports, again and again on the same ledger.
 */
class KilledWriterTest {

  static final LedgerBinding BINDING = new LedgerBinding("attic", RigKind.VIRTUAL);

  private static final Pattern REPORT = Pattern.compile("durable to (\\d+)\\.");
  private static final int ROUNDS = 6;
  private static final long SEED = 20_260_304L;

  private final Path folder;

  KilledWriterTest(@TempDir Path folder) {
    this.folder = folder;
  }

  @Test
  void losesNoDurableEventAndLeavesNoLibraryBehind() throws IOException, InterruptedException {
    Path file = folder.resolve("attic.ledger");
    Path scratch = Files.createDirectory(folder.resolve("scratch"));
    SplittableRandom random = new SplittableRandom(SEED);
    boolean foundOpen = false;

    for (int round = 0; round < ROUNDS; round++) {
      long acknowledged = killAfter(file, scratch, random.nextInt(1, 60));

      try (SqliteStore store = SqliteStore.open(file, BINDING, 0, Instant.EPOCH)) {
        assertThat(store.newest().number())
            .as("round %d", round)
            .isGreaterThanOrEqualTo(acknowledged);
        assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
        foundOpen |= closeOpenWork(store);
      }
    }

    assertThat(foundOpen).as("some kill fell between an intent and its end").isTrue();
    try (var left = Files.list(scratch)) {
      assertThat(left.filter(path -> path.toString().contains("sqlite"))).isEmpty();
    }
  }

  private static boolean closeOpenWork(SqliteStore store) {
    OpenWork open = OpenWork.of(store);
    assertThat(open.intents()).hasSizeLessThanOrEqualTo(1);
    List<LedgerEvent> closings = open.closings("the program was killed");
    store.commit(SampleEvents.chained(store.newest(), closings));
    assertThat(OpenWork.of(store).intents()).isEmpty();
    return !closings.isEmpty();
  }

  /** Runs the writer, kills it after so many reports, and says what it reported last. */
  private static long killAfter(Path file, Path scratch, int reports)
      throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                "-Djava.io.tmpdir=" + scratch,
                "-XX:TieredStopAtLevel=1",
                "-Dtinylog.level=off",
                EndlessWriter.class.getName(),
                file.toString())
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    long last = 0;
    try (BufferedReader lines = process.inputReader()) {
      for (int i = 0; i < reports; i++) {
        last = reported(lines.readLine(), last);
      }
      // On Linux this is SIGKILL: nothing of the program runs afterwards. By its handle, since
      // the process itself would also close the pipe that holds its last reports.
      process.toHandle().destroyForcibly();
      // What it had reported before it died counts, too.
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        last = reported(line, last);
      }
    }
    assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
    return last;
  }

  /** A report ends with a point, so that one cut short is not taken for a smaller number. */
  private static long reported(String line, long before) {
    assertThat(line).as("a report of the writer").isNotNull();
    Matcher report = REPORT.matcher(line);
    return report.matches() ? Long.parseLong(report.group(1)) : before;
  }
}
