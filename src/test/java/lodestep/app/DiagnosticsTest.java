package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import lodestep.bench.Batch;
import lodestep.cli.HeadWork;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.LiveReading;
import lodestep.port.LedgerEvent;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tinylog.Logger;

/**
 * Goal: diagnostics go to the file, and the console sees errors alone. Method: a JVM of its own, as
 * the configuration belongs to the whole of one.
 */
class DiagnosticsTest {

  private static final long SECONDS_MAX = 120;

  private static final String RIG_TEXT = "abc";

  /** Of these three letters, by the standard's own example (FIPS 180-4, from memory). */
  private static final String RIG_SHA256 =
      "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

  /** What the other JVM runs. */
  static final class Speaks {

    private Speaks() {}

    public static void main(String[] arguments) throws IOException {
      Diagnostics.writeTo(Path.of(arguments[0]));
      if (arguments.length > 1 && arguments[1].equals("of a run")) {
        keepADiary();
      } else if (arguments.length > 1) {
        Logger.info("bank at {} µF", 22_000);
        Logger.error("the head is silent");
      }
    }
  }

  private static void keepADiary() {
    RigConfig rig = ReferenceRig.virtual().readFrom(RIG_TEXT);
    Diary.begins("batch", rig, Optional.of(Path.of("../my bench.ledger")));
    Program.Watcher batch = Diary.of((Program.Watcher) new Unheard());
    batch.event(new LedgerEvent.HeadSeen("LB-02", 1, "3.1", 4_711, true), 0);
    batch.event(new LedgerEvent.Tripped(12, "the lid was opened", "lid a", 7), 1);
    batch.event(new LedgerEvent.TripReset(12), 2);
    batch.event(new LedgerEvent.PersonAsked("pause"), 2);
    HeadWork.LiveWatcher live = Diary.of((HeadWork.LiveWatcher) new Unheard());
    LiveReading reading =
        LiveReading.start(new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001), 0);
    for (int line = 0; line < 3_000; line++) {
      Optional<String> silence =
          line >= 1_000 && line < 2_000 ? Optional.of("no line") : Optional.empty();
      live.live(new HeadWork.Live(reading, 0.01 * line, Optional.empty(), silence));
    }
    Diary.note(new Refusal("name a plan"));
    Diary.note(new IllegalStateException("a wheel came off"));
    Diary.ends("batch");
  }

  /** Who is told nothing. */
  private static final class Unheard implements Program.Watcher, HeadWork.LiveWatcher {
    @Override
    public void event(LedgerEvent event, double rigSeconds) {}

    @Override
    public void verdict(Batch batch, int done, double rigSeconds) {}

    @Override
    public void trip(String sentence) {}

    @Override
    public void live(HeadWork.Live live) {}

    @Override
    public void says(String sentence) {}
  }

  @Test
  void keepsALineOfEachThingThatHappensAndNoneOfWhatGoesOn(@TempDir Path folder)
      throws IOException, InterruptedException {
    Path logs = folder.resolve("log");

    String console = speak(folder, logs.toString(), "of a run");

    assertThat(console).as("a person was told on the console already").isEmpty();
    String file = Files.readString(logs.resolve("lodestep.0.log"));
    List<String> entries =
        file.lines()
            .filter(line -> line.contains(" main "))
            .map(line -> line.substring(line.indexOf(' ') + 1))
            .toList();
    assertThat(entries).as(file).hasSize(9);
    assertThat(entries.get(0))
        .contains("INFO main Diary: begin: batch, version", "rig 'reference rig'")
        .contains("ledger ../my bench.ledger")
        .contains(RIG_SHA256);
    assertThat(entries.get(1)).contains("INFO", "head LB-02: protocol 1, firmware 3.1, boot 4711");
    assertThat(entries.get(2)).contains("WARN", "trip 12: the lid was opened (lid a), magnet 7");
    assertThat(entries.get(3)).contains("INFO", "trip 12 is reset");
    assertThat(entries.get(4)).contains("WARN", "no line");
    assertThat(entries.get(5)).contains("INFO", "the head speaks again");
    assertThat(entries.get(6)).contains("INFO", "refused: name a plan");
    assertThat(entries.get(7)).contains("ERROR", "the program found a fault in itself");
    assertThat(entries.get(8)).contains("INFO", "end: batch");
    assertThat(file)
        .contains("java.lang.IllegalStateException: a wheel came off", "at lodestep.app.Diag");
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
