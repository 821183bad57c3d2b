package lodestep.launch;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;

/**
 * The program itself, run in processes of its own as a user runs it, with a folder for its data.
 */
record Lodestep(Path folder) {

  /** Rods of an invented order, enough for a run to be cut off in its middle. */
  static final String PLAN =
      """
      name,set,alloy,shape,size,nest,pole up,target,tolerance,count,lot
      cut,cut off,alnico 5,rod,4.9 x 16.5 mm,,north,600 G,11 G,6,autumn 3
      """;

  Path ledger() {
    return folder.resolve("bench.ledger");
  }

  /** Where its diagnostics go; made when they are. */
  Path state() {
    return folder.resolve("state");
  }

  Path plan() throws IOException {
    return Files.writeString(folder.resolve("order.csv"), PLAN);
  }

  /** The command line that runs the program with these arguments. */
  List<String> commandLine(String... arguments) {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                classPath(),
                "-XX:TieredStopAtLevel=1",
                "-Djava.io.tmpdir=" + folder,
                "lodestep.app.Main"));
    command.addAll(List.of(arguments));
    return command;
  }

  /** Without the tests' own files, which would have the program log as a test does. */
  private static String classPath() {
    return Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
        .filter(entry -> !Path.of(entry).endsWith("test-classes"))
        .collect(Collectors.joining(File.pathSeparator));
  }

  Process start(String... arguments) throws IOException {
    return start(commandLine(arguments));
  }

  Process start(List<String> command) throws IOException {
    ProcessBuilder builder = new ProcessBuilder(command).directory(folder.toFile());
    builder.environment().put("XDG_DATA_HOME", folder.toString());
    builder.environment().put("XDG_STATE_HOME", state().toString());
    return builder.start();
  }

  /** Runs the program to its end. */
  Ending run(String... arguments) throws IOException, InterruptedException {
    return Ending.of(start(arguments));
  }

  /** Dials the plan on this ledger. */
  Ending batch(Path ledger) throws IOException, InterruptedException {
    return run("batch", plan().toString(), "--ledger", ledger.toString());
  }

  /** Goes on with the batch left open in its ledger. */
  Ending goOn() throws IOException, InterruptedException {
    return run("batch", "--continue", "--ledger", ledger().toString());
  }

  Ending prove() throws IOException, InterruptedException {
    return run("prove", "--ledger", ledger().toString());
  }
}
