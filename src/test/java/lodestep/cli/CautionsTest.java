package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import org.junit.jupiter.api.Test;

/** Goal: a rig is cautioned about what it has, and about what every rig has. */
class CautionsTest {

  private static String of(String file) throws IOException {
    Path path =
        Path.of(System.getProperty("lodestep.repository", "."), "firmware-host", "board", file);
    RigConfig rig =
        RigFile.read(file, Files.readString(path))
            .match(
                good -> good,
                problems -> {
                  throw new AssertionError(problems);
                });
    StringWriter told = new StringWriter();
    Cautions.showFor(rig, new PrintWriter(told));
    assertThat(told.toString())
        .contains("eye protection", "Pacemakers", "Mains only", "not an emergency stop");
    return told.toString();
  }

  @Test
  void namesBankCoilAndJigWhereTheyAre() throws IOException {
    assertThat(of("rig-virtual.toml"))
        .contains("THE BANK", "THE COIL")
        .doesNotContain("THE JIG", "BY HAND");
    assertThat(of("rig-virtual-jig.toml"))
        .contains("THE JIG", "BY HAND")
        .doesNotContainIgnoringCase("bank", "coil");
    assertThat(of("rig-virtual-coil-and-jig.toml")).contains("THE BANK", "THE COIL", "THE JIG");
    assertThat(of("rig-virtual-switched.toml")).contains("THE COIL").doesNotContain("THE BANK");
  }
}
