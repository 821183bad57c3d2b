package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tinylog.Logger;

/**
 * Goal: diagnostics go to the file, and the console sees errors alone. Method: a JVM of its own, as
 * the configuration belongs to the whole of one.
 */
class DiagnosticsTest {

  private static final long SECONDS_MAX = 120;

  /** What the other JVM runs. */
  static final class Speaks {

    private Speaks() {}

    public static void main(String[] arguments) throws IOException {
      Diagnostics.writeTo(Path.of(arguments[0]));
      if (arguments.length > 1) {
        Logger.info("bank at {} µF", 22_000);
        Logger.error("the head is silent");
      }
    }
  }

  @Test
  void writesEverythingToTheFileAndErrorsAloneToTheConsole(@TempDir Path folder)
      throws IOException, InterruptedException {
    Path logs = folder.resolve("data of mine/log");

    String console = speak(folder, logs.toString(), "aloud");

    assertThat(console).contains("the head is silent").doesNotContain("bank at");
    assertThat(Files.readString(logs.resolve("lodestep.0.log")))
        .contains("INFO main DiagnosticsTest$Speaks: bank at 22000 µF")
        .contains("ERROR");
  }

  @Test
  void writesNothingWhileNothingIsLogged(@TempDir Path folder)
      throws IOException, InterruptedException {
    Path logs = folder.resolve("log");

    String console = speak(folder, logs.toString());

    assertThat(console).isEmpty();
    try (Stream<Path> written = Files.list(logs)) {
      assertThat(written).isEmpty();
    }
  }

  private static String speak(Path folder, String... arguments)
      throws IOException, InterruptedException {
    Path console = folder.resolve("console");
    Path repository = Path.of(System.getProperty("lodestep.repository"));
    String tests =
        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
    List<String> command =
        Stream.concat(
                Stream.of(
                    Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                    "-Dfile.encoding=UTF-8",
                    "-cp",
                    // The program's own configuration before that of the tests.
                    repository.resolve("target/classes") + File.pathSeparator + tests,
                    Speaks.class.getName()),
                Stream.of(arguments))
            .toList();
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(console.toFile())
            .start();
    try {
      assertThat(process.waitFor(SECONDS_MAX, TimeUnit.SECONDS)).as("ended by itself").isTrue();
    } finally {
      process.destroyForcibly();
    }
    assertThat(process.exitValue()).isZero();
    return Files.readString(console, StandardCharsets.UTF_8);
  }
}
