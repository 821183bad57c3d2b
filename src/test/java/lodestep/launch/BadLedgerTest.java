package lodestep.launch;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.config.ReferenceRig;
import lodestep.config.RigKind;
import lodestep.ledger.LedgerBinding;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: with a ledger that cannot be kept nothing is filled or fired, and one sentence says why.
 *
 * <p>Method for disks: the program runs in a name space of its own, in which a small file system in
 * memory is full or read-only; so it is the same for root, whom no file's mode keeps from writing,
 * and leaves nothing behind.
 */
@Timeout(300)
class BadLedgerTest {

  private static final LedgerBinding BINDING =
      new LedgerBinding(ReferenceRig.virtual().name(), RigKind.VIRTUAL);

  private final Path folder;
  private final Lodestep lodestep;

  BadLedgerTest(@TempDir Path folder) {
    this.folder = folder;
    this.lodestep = new Lodestep(folder);
  }

  private static void assertRefused(Ending ending, String... words) {
    assertThat(ending.said()).startsWith("lodestep: ").contains(words).hasLineCount(1);
    assertThat(ending.exitCode()).isEqualTo(2);
    assertThat(ending.output()).doesNotContain("accepted", " of 6", "trip ");
  }

  @Test
  void refusesASecondInstanceOnTheSameLedger() throws IOException, InterruptedException {
    try (SqliteStore first = SqliteStore.open(lodestep.ledger(), BINDING, 0, Instant.EPOCH)) {
      Ending second = lodestep.batch(lodestep.ledger());

      assertRefused(second, "is in use by another Lodestep", "stop that one first");
      assertThat(first.newest().number()).isEqualTo(1);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "REAL, reference rig, belongs to a real rig and this rig is virtual",
    "VIRTUAL, attic bench, 'belongs to the rig ''attic bench'''"
  })
  void refusesTheLedgerOfARealOrAnotherRig(RigKind kind, String rig, String sentence)
      throws IOException, InterruptedException {
    SqliteStore.open(lodestep.ledger(), new LedgerBinding(rig, kind), 0, Instant.EPOCH).close();
    byte[] before = Files.readAllBytes(lodestep.ledger());

    Ending ending = lodestep.batch(lodestep.ledger());

    assertThat(ending.said().replace(",", "")).contains(sentence.replace(",", ""));
    assertRefused(ending, "name another ledger");
    assertThat(Files.readAllBytes(lodestep.ledger())).isEqualTo(before);
  }

  @Test
  void refusesAReadOnlyDiskWithNoLedgerYet() throws IOException, InterruptedException {
    assertRefused(onDisk("mount -o remount,ro \"$disk\"; batch"), "the ledger", "writable");
  }

  @Test
  void refusesAReadOnlyDiskWithALedger() throws IOException, InterruptedException {
    SqliteStore.open(lodestep.ledger(), BINDING, 0, Instant.EPOCH).close();

    assertRefused(
        onDisk("cp -r \"$folder\"/bench.ledger* \"$disk\"; mount -o remount,ro \"$disk\"; batch"),
        "the ledger",
        "read-only",
        "writable");
  }

  @Test
  void refusesAReadOnlyLedgerInAWritableFolder() throws IOException, InterruptedException {
    SqliteStore.open(lodestep.ledger(), BINDING, 0, Instant.EPOCH).close();

    assertRefused(
        onDisk(
            "file=\"$disk/bench.ledger\"; cp \"$folder/bench.ledger\" \"$file\";"
                + " mount --bind \"$file\" \"$file\"; mount -o remount,bind,ro \"$file\"; batch"),
        "the ledger",
        "read-only",
        "writable");
  }

  @Test
  void refusesAFullDisk() throws IOException, InterruptedException {
    assertRefused(onDisk("fill_up 0; batch"), "full", "make room");
  }

  @Test
  void refusesADiskThatIsFullBesideALedger() throws IOException, InterruptedException {
    assertRefused(onDisk("batch >/dev/null 2>&1 || exit 9; fill_up 0; batch"), "full", "make room");
  }

  @Test
  void tripsWhenTheDiskFillsInMidBatchAndGoesOnWhenThereIsRoom()
      throws IOException, InterruptedException {
    Ending ending =
        onDisk(
            "batch >/dev/null 2>&1 || exit 9; fill_up 300; batch; echo \"exit $?\";"
                + " rm \"$disk/ballast\"; prove; go_on");

    assertThat(ending.output())
        .contains("trip 61: the ledger cannot be written", "exit 3", "whole: ")
        .contains("6 accepted, 0 refused, 0 recharge needed, 0 open");
    assertThat(ending.said()).isEmpty();
    assertThat(ending.exitCode()).isZero();
  }

  /** A hundred kibibytes hold a part of each and the whole of none. */
  @Test
  void leavesNoHalfBackupExportOrLedgerOnAFullDisk() throws IOException, InterruptedException {
    Ending ending =
        onDisk(
            "batch >/dev/null 2>&1 || exit 9; from=\"$disk/bench.ledger\"; mkdir \"$disk/b\";"
                + " cp \"$from\" \"$folder\"; fill_up 40; ls -A \"$disk\" >\"$folder/before\";"
                + " backup; echo \"backup $?\"; export_all; echo \"export $?\";"
                + " ls -A \"$disk/b\" | grep -v lock; rm -f \"$disk/b/\".*.lock;"
                + " ls -A \"$disk\" | diff \"$folder/before\" - && echo same;"
                + " rm \"$disk/ballast\"; prove");

    assertThat(ending.output())
        .contains("backup 2", "export 2", "same", "whole: ")
        .doesNotContain("Backed up", "Exported", "unfinished");
    assertThat(ending.said().lines())
        .hasSize(2)
        .allMatch(line -> line.contains("the disk is full; make room"));
  }

  /**
   * Runs a shell script in which {@code $disk} is a file system of its own of four megabytes, with
   * the program's commands on the ledger there as functions, and {@code fill_up N} to leave N
   * kibibytes free.
   */
  private Ending onDisk(String script) throws IOException, InterruptedException {
    Path disk = Files.createDirectories(folder.resolve("disk"));
    String ledger = disk.resolve("bench.ledger").toString();
    List<String> lines = new ArrayList<>();
    lines.add("disk=" + quoted(disk.toString()) + "; folder=" + quoted(folder.toString()));
    lines.add("mount -t tmpfs -o size=4m tmpfs \"$disk\" || exit 8");
    lines.add(
        "fill_up() { head -c 8m /dev/zero >\"$disk/ballast\" 2>/dev/null;"
            + " full=$(wc -c <\"$disk/ballast\");"
            + " truncate -s $((full - $1 * 1024)) \"$disk/ballast\"; }");
    lines.add("batch() { " + call("batch", lodestep.plan().toString(), "--ledger", ledger) + "; }");
    lines.add("go_on() { " + call("batch", "--continue", "--ledger", ledger) + "; }");
    lines.add("backup() { " + call("backup", "--ledger", ledger, "--folder", disk + "/b") + "; }");
    lines.add(
        "export_all() { " + call("export", "--ledger", ledger, "--to", disk + "/e.jsonl") + "; }");
    lines.add("prove() { " + call("prove", "--ledger", ledger) + "; }");
    lines.add(script);
    Ending ending = Ending.of(lodestep.start(inNameSpace(String.join("\n", lines))));
    if (ending.exitCode() == 8) {
      cannotBeTried(ending.said());
    }
    return ending;
  }

  private static List<String> inNameSpace(String script) {
    return List.of("unshare", "--user", "--map-root-user", "--mount", "sh", "-c", script);
  }

  private String call(String... arguments) {
    return String.join(
        " ", lodestep.commandLine(arguments).stream().map(BadLedgerTest::quoted).toList());
  }

  private static String quoted(String word) {
    return "'" + word.replace("'", "'\\''") + "'";
  }

  /** Where the system lets nobody mount anything, this cannot be tried; that must not go unseen. */
  private static void cannotBeTried(String why) {
    System.err.println(
        "NOT TESTED: a full or read-only disk, since this system lets no name space mount a file"
            + " system ("
            + why.strip()
            + "); run the tests as root or allow user name spaces");
    Assumptions.abort("no file system can be mounted here: " + why);
  }
}
