package lodestep.powerloss;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

/**
 * The library that writes down what a program does to one folder, and fails it on order; see {@code
 * src/test/c/disk_trace.c}.
 *
 * @param library what was built
 * @param folder the folder watched; it holds the ledger alone
 */
record TracedDisk(Path library, Path folder) {

  private static final String INSTALL =
      "cc is missing, and the tests of power cuts need it; run: apt-get install -y gcc";

  /** Errors of Linux, by their numbers there. */
  enum Failure {
    /** The device failed. */
    IO(5),
    /** No room is left. */
    NO_SPACE(28),
    /** The file system has become read-only. */
    READ_ONLY(30);

    private final int number;

    Failure(int number) {
      this.number = number;
    }
  }

  /** Builds the library in this folder, to watch another one within it. */
  static TracedDisk builtIn(Path scratch) throws IOException, InterruptedException {
    Path source = Path.of(System.getProperty("lodestep.repository", ""), "src/test/c/disk_trace.c");
    Path library = scratch.resolve("disk_trace.so");
    List<String> command =
        List.of(
            "cc",
            "-std=c11",
            "-O1",
            "-Wall",
            "-Wextra",
            "-Werror",
            "-shared",
            "-fPIC",
            "-o",
            library.toString(),
            source.toString(),
            "-ldl",
            "-lpthread");
    Process cc;
    try {
      cc = new ProcessBuilder(command).redirectErrorStream(true).start();
    } catch (IOException missing) {
      throw new AssertionError(INSTALL, missing);
    }
    String said = new String(cc.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (cc.waitFor() != 0) {
      throw new AssertionError("the library that traces the disk does not build:\n" + said);
    }
    return new TracedDisk(library, Files.createDirectory(scratch.resolve("watched")));
  }

  /** Lets a program that runs in the library's folder be written down into this file. */
  void trace(ProcessBuilder program, Path into) {
    Map<String, String> environment = program.environment();
    // A blank or a colon would end its name, and the folder may have them: it is named from there.
    environment.put("LD_PRELOAD", "./" + library.getFileName());
    environment.put("DISK_TRACE_FOLDER", folder.toString());
    environment.put("DISK_TRACE_FILE", into.toString());
  }

  /** Lets a program that is written down kill itself after so many changes of the disk. */
  static void killAfterChanges(ProcessBuilder program, long changes) {
    program.environment().put("DISK_TRACE_KILL", Long.toString(changes));
  }

  /** Lets a program that is written down kill itself after so many sayings on the line. */
  static void killAfterSayings(ProcessBuilder program, long sayings) {
    program.environment().put("DISK_TRACE_KILL_LINE", Long.toString(sayings));
  }

  /** Has a program that would kill itself outright ask itself to end instead, as a system does. */
  static void askToEndInstead(ProcessBuilder program) {
    program.environment().put("DISK_TRACE_SIGNAL", "15");
  }

  /**
   * Lets an operation of a program that is written down fail.
   *
   * @param operation its number, from 1
   * @param forEver whether all after it fail, too
   */
  static void fail(ProcessBuilder program, long operation, boolean forEver, Failure failure) {
    Map<String, String> environment = program.environment();
    environment.put("DISK_TRACE_FAIL", Long.toString(operation));
    environment.put("DISK_TRACE_EVER", forEver ? "1" : "0");
    environment.put("DISK_TRACE_ERRNO", Integer.toString(failure.number));
  }
}
