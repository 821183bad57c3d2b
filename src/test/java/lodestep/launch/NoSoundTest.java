package lodestep.launch;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: where there is no sound, {@code --tone} says so once and the bell stands in; where there is
 * no terminal either, it is refused before anything is begun. Method: the program in processes of
 * its own on a Java that lacks its sound, as a headless board's does, whatever this computer has;
 * once on a pseudo-terminal.
 */
@Timeout(300)
class NoSoundTest {

  private static final char BELL = '\u0007';

  private final Lodestep lodestep;

  NoSoundTest(@TempDir Path folder) {
    this.lodestep = new Lodestep(folder);
  }

  private List<String> withoutSound() {
    List<String> command =
        new ArrayList<>(
            lodestep.commandLine(
                "hand",
                "--ledger",
                lodestep.ledger().toString(),
                "--alloy",
                "alnico 2",
                "--size",
                "5.1 x 18 mm",
                "--pole-up",
                "south",
                "--target",
                "430 G",
                "--tolerance",
                "15 G",
                "--tone"));
    command.add(1, "--limit-modules=java.base,java.sql,java.management,jdk.unsupported");
    return command;
  }

  @Test
  void refusesTheToneWhereThereIsNoTerminalForTheBell() throws IOException, InterruptedException {
    Ending ended = Ending.of(lodestep.start(withoutSound()));

    assertThat(ended.exitCode()).isEqualTo(2);
    assertThat(ended.said())
        .isEqualTo(
            "lodestep: --tone: this Java comes without sound, and the bell needs a terminal;"
                + " leave --tone out here\n");
    assertThat(lodestep.ledger()).doesNotExist();
  }

  @Test
  void saysOnATerminalThatTheBellStandsInAndRingsIt() throws IOException, InterruptedException {
    Path script = lodestep.folder().resolve("by-hand");
    String words =
        withoutSound().stream().map(word -> "'" + word + "'").collect(Collectors.joining(" "));
    Files.writeString(script, "#!/bin/sh\nexec " + words + "\n");
    Files.setPosixFilePermissions(script, PosixFilePermissions.fromString("rwx------"));
    Process terminal =
        lodestep.start(List.of("socat", "EXEC:./by-hand,pty,setsid,ctty,stderr", "-"));
    try (InputStream screen = terminal.getInputStream()) {
      StringBuilder seen = new StringBuilder();
      int bells = 0;
      while (bells < 3) {
        int letter = screen.read();
        assertThat(letter).as("three bells before the end of: %s", seen).isNotNegative();
        seen.append((char) letter);
        bells += letter == BELL ? 1 : 0;
      }

      assertThat(seen)
          .containsOnlyOnce(
              "No tone, as this Java comes without sound; the terminal's bell quickens instead.")
          .contains("closer");
    } finally {
      terminal.descendants().forEach(ProcessHandle::destroyForcibly);
      terminal.destroyForcibly().waitFor();
    }
  }
}
