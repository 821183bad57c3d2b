package lodestep.powerloss;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.adapter.serial.Polling;

/**
 * The batch command in a process of its own, on a virtual rig behind a serial line, with its ledger
 * in the folder watched.
 */
record TracedBatch(Path scratch, TracedDisk disk) {

  private static final String HEADINGS =
      "name,set,alloy,shape,size,nest,pole up,target,tolerance,count,lot\n";

  Path ledger() {
    return disk.folder().resolve("bench.ledger");
  }

  /** Where the rig writes down how its host left it. */
  private Path rigLog() {
    return scratch.resolve("rig.log");
  }

  /** Waits for what the rig has to say of how its host left it, and takes it away. */
  String rigSaid() throws IOException {
    Polling.until("the rig's log", () -> hasLine(rigLog()));
    String said = Files.readString(rigLog()).strip();
    Files.delete(rigLog());
    return said;
  }

  private static boolean hasLine(Path log) {
    try {
      return Files.exists(log) && Files.readString(log).endsWith("\n");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** How a run ended. */
  record Ended(int exitCode, String output, String said) {}

  /** A batch of this many rods, dialed anew. */
  ProcessBuilder onALine(int rods) throws IOException {
    Path plan =
        Files.writeString(
            scratch.resolve("order.csv"),
            HEADINGS
                + "rod,cut,alnico 5,rod,4.9 x 16.5 mm,,north,600 G,11 G,"
                + rods
                + ",autumn 3\n");
    return program(List.of(plan.toString()));
  }

  /** Goes on with the batch that a run has left open. */
  ProcessBuilder goOn() throws IOException {
    return program(List.of("--continue"));
  }

  /** Each run has a line of its own, since the last one's may still be on its way out. */
  private ProcessBuilder program(List<String> what) throws IOException {
    Path rig = scratch.resolve("rig.toml");
    Path example =
        Path.of(System.getProperty("lodestep.repository", ""))
            .resolve("firmware-host/board/rig-virtual-serial.toml");
    Path line = Files.createTempDirectory(scratch, "line").resolve("head");
    Files.writeString(
        rig, Files.readString(example).replace("/tmp/lodestep-head", line.toString()));
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                "-XX:TieredStopAtLevel=1",
                "-Djava.io.tmpdir=" + scratch,
                "lodestep.app.Main",
                "batch"));
    command.addAll(what);
    command.addAll(List.of("--rig", rig.toString(), "--ledger", ledger().toString()));
    ProcessBuilder builder = new ProcessBuilder(command).directory(scratch.toFile());
    builder.environment().put("XDG_DATA_HOME", scratch.toString());
    builder.environment().put("LODESTEP_RIG_LOG", rigLog().toString());
    return builder;
  }

  /** Runs a program to its end. */
  static Ended run(ProcessBuilder program) throws IOException, InterruptedException {
    Path said = Files.createTempFile(program.directory().toPath(), "said", ".txt");
    Process process = program.redirectError(said.toFile()).start();
    String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    return new Ended(process.waitFor(), output, Files.readString(said));
  }
}
