package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import lodestep.adapter.serial.Polling;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.config.HeadConfig;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigReading;
import lodestep.ledger.EventCodec;
import lodestep.ledger.Proof;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the batch command on the shipped example of a rig on a line, as a person runs it and breaks
 * it off: the record stays whole and nothing is left running. Method: the program as a process.
 */
class BatchCommandOverALineTest {

  private static final String EXAMPLE_PORT = "/tmp/lodestep-head";
  private static final String PLAN =
      """
      name,set,alloy,shape,size,nest,pole up,target,tolerance,count
      third,,alnico 5,rod,4.9 x 16.5 mm,,north,620 G,10 G,300
      """;

  private final Path folder;
  private final Path port;
  private final Path ledger;
  private final List<Process> begun = new ArrayList<>();

  BatchCommandOverALineTest(@TempDir Path folder, @TempDir Path lineFolder) {
    this.folder = folder;
    this.port = lineFolder.resolve("head");
    this.ledger = folder.resolve("bench.ledger");
  }

  @AfterEach
  void endWhatAFailedTestHasLeft() {
    begun.forEach(Process::destroyForcibly);
  }

  private static String example() throws IOException {
    Path repository = Path.of(System.getProperty("lodestep.repository", ""));
    return Files.readString(repository.resolve("firmware-host/board/rig-virtual-serial.toml"));
  }

  @Test
  void readsTheExampleAsTheReferenceRigOnALine() throws IOException {
    RigConfig inside = ReferenceRig.virtual();
    RigConfig expected =
        new RigConfig(
            "reference rig on a line",
            inside.kind(),
            new HeadConfig.SerialHead(EXAMPLE_PORT, "BENCH-0001"),
            inside.bank(),
            inside.coils(),
            inside.nests(),
            inside.gauge(),
            inside.limits(),
            inside.pins());

    assertThat(RigFile.read("rig-virtual-serial.toml", example()))
        .isEqualTo(new RigReading.Rig(expected.readFrom(example())));
  }

  @Test
  void endsInOrderOnControlC() throws IOException, InterruptedException {
    // A shell's background job ignores the interrupt key, and these tests may run in one.
    Process program = start("env", "--default-signal=INT", "setsid");
    List<ProcessHandle> started = awaitFirstVerdict(program);

    // As a terminal does: to every process of the group in the foreground.
    run("sh", "-c", "kill -s INT -- -" + program.pid());

    assertThat(program.waitFor()).isEqualTo(130);
    assertNothingIsLeft(started);
    try (LedgerArchive archive = SqliteArchive.open(ledger)) {
      assertThat(Proof.of(archive, List.of())).isInstanceOf(Proof.Result.Whole.class);
      List<LedgerEvent> trips = new ArrayList<>();
      archive.forEach(
          1,
          archive.newest().number(),
          stored -> {
            LedgerEvent event = EventCodec.decode(stored).event();
            if (event instanceof LedgerEvent.Tripped) {
              trips.add(event);
            }
          });
      assertThat(trips).as("the rig was there until the host had let go").isEmpty();
    }
  }

  @Test
  void leavesNothingRunningAndTheRecordWholeWhenItIsKilled()
      throws IOException, InterruptedException {
    Process program = start("setsid");
    List<ProcessHandle> started = awaitFirstVerdict(program);

    program.destroyForcibly().waitFor();

    assertNothingIsLeft(started);
    try (LedgerArchive archive = SqliteArchive.open(ledger)) {
      assertThat(Proof.of(archive, List.of())).isInstanceOf(Proof.Result.Whole.class);
    }
  }

  @Test
  void namesTheCommandThatInstallsSocatWhenItIsMissing() throws IOException, InterruptedException {
    Path tools = Files.createDirectory(folder.resolve("tools"));
    Path setsid = tools.resolve("setsid");
    Files.writeString(setsid, "#!/bin/sh\nexec " + found("setsid") + " \"$@\"\n");
    Files.setPosixFilePermissions(setsid, PosixFilePermissions.fromString("rwx------"));
    Process program = start("env", "PATH=" + tools);

    String said = new String(program.getErrorStream().readAllBytes(), StandardCharsets.UTF_8);

    assertThat(program.waitFor()).isEqualTo(2);
    assertThat(said)
        .startsWith("lodestep: socat is missing")
        .contains("sudo apt-get install -y socat")
        .hasLineCount(1);
    assertThat(Files.exists(port, LinkOption.NOFOLLOW_LINKS)).isFalse();
  }

  private static Path found(String tool) {
    for (String place : System.getenv("PATH").split(":", -1)) {
      if (Files.isExecutable(Path.of(place, tool))) {
        return Path.of(place, tool);
      }
    }
    throw new AssertionError(tool + " is missing; it comes with Debian's util-linux");
  }

  private Process start(String... before) throws IOException {
    Path rig = folder.resolve("rig.toml");
    Files.writeString(rig, example().replace(EXAMPLE_PORT, port.toString()));
    Path plan = Files.writeString(folder.resolve("plan.csv"), PLAN);
    List<String> command = new ArrayList<>(List.of(before));
    command.addAll(
        List.of(
            Path.of(System.getProperty("java.home", ""), "bin", "java").toString(),
            "-XX:TieredStopAtLevel=1",
            "-cp",
            System.getProperty("java.class.path", ""),
            Main.class.getName(),
            "batch",
            plan.toString(),
            "--rig",
            rig.toString(),
            "--ledger",
            ledger.toString()));
    Process program = new ProcessBuilder(command).start();
    begun.add(program);
    return program;
  }

  /** Everything the program has started by the time of its first verdict. */
  private static List<ProcessHandle> awaitFirstVerdict(Process program) throws IOException {
    BufferedReader output = program.inputReader(StandardCharsets.UTF_8);
    List<String> said = new ArrayList<>();
    for (String line = output.readLine(); line != null; line = output.readLine()) {
      said.add(line);
      if (line.contains("1 of 300")) {
        List<ProcessHandle> started = program.descendants().toList();
        assertThat(started).as("the rig's process and socat").hasSize(2);
        return started;
      }
    }
    throw new AssertionError("no verdict before the end: " + said);
  }

  private static void run(String... command) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(command).inheritIO().start();
    assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
    assertThat(process.exitValue()).isZero();
  }

  private void assertNothingIsLeft(List<ProcessHandle> started) {
    Polling.until(
        "the rig's process and socat to end",
        () -> started.stream().noneMatch(ProcessHandle::isAlive));
    assertThat(port.getParent()).isEmptyDirectory();
  }
}
