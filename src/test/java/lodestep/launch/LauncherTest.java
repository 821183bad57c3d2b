package lodestep.launch;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Goal: one command builds when it must and then is the program, from anywhere. */
@Timeout(300)
class LauncherTest {

  private static final String BUILDING = "building, as the sources are newer";

  @Test
  void buildsOnceAndThenPassesArgumentsAndExitCodeThrough(@TempDir Path folder)
      throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);

    Ending first = bench.run("plan", "an order.csv", "");
    Ending second = bench.run("plan");

    assertThat(first.exitCode()).isEqualTo(7);
    assertThat(first.output()).endsWith("<lodestep.app.Main><plan><an order.csv><>");
    assertThat(first.said()).contains(BUILDING).hasLineCount(1);
    assertThat(second.said()).isEmpty();
    assertThat(bench.builds()).isEqualTo(1);
  }

  @Test
  void runsThroughASymbolicLink(@TempDir Path folder) throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);
    Path link = folder.resolve("link to it");
    Files.createSymbolicLink(link, bench.root().resolve("lodestep"));

    Ending ending = Ending.of(bench.start(link));

    assertThat(ending.exitCode()).isEqualTo(7);
    assertThat(ending.output()).contains("<" + bench.root().toRealPath() + "/target/lodestep.jar>");
  }

  @Test
  void keepsAUtf8LocaleOnlyWhenThisSystemHasIt(@TempDir Path folder)
      throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);
    Map<String, String> asked = Map.of("LC_ALL", "de_DE.UTF-8");

    bench.answerCharacters("UTF-8");
    assertThat(bench.runWith(asked).output()).startsWith("{de_DE.UTF-8 }");
    // What glibc answers for a locale that is not installed.
    bench.answerCharacters("ANSI_X3.4-1968");
    assertThat(bench.runWith(asked).output()).startsWith("{ C.UTF-8}");
  }

  @Test
  void buildsAgainWhenASourceOrTheBuildFileIsNewer(@TempDir Path folder)
      throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);
    bench.run();

    bench.edit(bench.source());
    assertThat(bench.run().said()).contains(BUILDING);
    // The clock may not have moved past the edit; what counts is that the stamp now follows it.
    bench.edit(bench.root().resolve("pom.xml"));
    assertThat(bench.run().said()).contains(BUILDING);
  }

  @Test
  void buildsAgainWhenASourceWasRemoved(@TempDir Path folder)
      throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);
    bench.run();

    Files.delete(bench.source());
    bench.edit(bench.root().resolve("src/main"));

    assertThat(bench.run().said()).contains(BUILDING);
  }

  @Test
  void showsAFailedBuildAndNeverRunsTheOldProgram(@TempDir Path folder)
      throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);
    bench.run();
    bench.breakTheBuild();
    bench.edit(bench.source());

    Ending failed = bench.run();
    Ending again = bench.run();

    assertThat(failed.exitCode()).isEqualTo(1);
    assertThat(failed.said()).contains("A.java: no such thing").contains("the build failed");
    assertThat(failed.output()).isEmpty();
    assertThat(again.output()).isEmpty();
    assertThat(bench.builds()).isEqualTo(3);
  }

  @Test
  void saysWhatToInstallWhenMavenIsMissing(@TempDir Path folder)
      throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);
    bench.takeAwayMaven();

    Ending ending = bench.run();

    assertThat(ending.exitCode()).isEqualTo(1);
    assertThat(ending.said()).contains("missing: maven").contains("apt-get install -y maven");
  }

  @Test
  void takesNoJavaThatIsTooOld(@TempDir Path folder) throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);
    bench.run();
    bench.writeJavaVersion("11.0.2");

    // Another Java of this system may serve; the old one must not.
    assertThat(bench.run().output()).doesNotContain("<lodestep.app.Main>");
    bench.writeJavaVersion("21");
    assertThat(bench.run().output()).contains("<lodestep.app.Main>");
  }

  @Test
  void letsTheSecondOfTwoStartsWaitForTheFirstOnesBuild(@TempDir Path folder)
      throws IOException, InterruptedException {
    Bench bench = Bench.in(folder);
    Path gate = bench.holdTheBuild();
    Path launcher = bench.root().resolve("lodestep");

    Process first = bench.start(launcher);
    BufferedReader firstSays = first.errorReader(StandardCharsets.UTF_8);
    assertThat(firstSays.readLine()).contains(BUILDING);
    Process second = bench.start(launcher);
    BufferedReader secondSays = second.errorReader(StandardCharsets.UTF_8);
    assertThat(secondSays.readLine()).contains("waiting for another build");
    Files.writeString(gate, "go\n");

    assertThat(first.waitFor()).isEqualTo(7);
    assertThat(second.waitFor()).isEqualTo(7);
    assertThat(secondSays.readLine()).isNull();
    assertThat(bench.builds()).isEqualTo(1);
  }
}
