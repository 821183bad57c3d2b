package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.config.RigKind;
import lodestep.config.RigReading;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RigSourceTest {

  @Test
  void isTheBuiltInVirtualRigWhenNoFileIsNamed() throws IOException {
    RigReading reading = RigSource.read(Optional.empty());

    assertThat(reading).isInstanceOf(RigReading.Rig.class);
    assertThat(((RigReading.Rig) reading).config().kind()).isEqualTo(RigKind.VIRTUAL);
  }

  @Test
  void refusesAMissingFileRatherThanGoingVirtual(@TempDir Path folder) throws IOException {
    Path file = folder.resolve("rig.toml");

    assertThat(problems(file))
        .containsExactly(file + ": there is no such file; name the rig.toml of your rig");
  }

  @Test
  void refusesAFileThatIsNotUtf8(@TempDir Path folder) throws IOException {
    Path file = folder.resolve("rig.toml");
    Files.write(file, "fill_resistor = \"47 \u00b5\"".getBytes(StandardCharsets.ISO_8859_1));

    assertThat(problems(file)).containsExactly(file + ": is not UTF-8 text; save it as UTF-8");
  }

  @Test
  void namesTheFileInTheProblemsOfItsText(@TempDir Path folder) throws IOException {
    Path file = Files.writeString(folder.resolve("rig.toml"), "schema = 7\n");

    assertThat(problems(file)).singleElement().asString().startsWith(file + ":1:1: schema 7");
  }

  private static List<String> problems(Path file) throws IOException {
    RigReading reading = RigSource.read(Optional.of(file));
    return reading.match(
        rig -> {
          throw new AssertionError("was taken: " + rig);
        },
        problems -> problems);
  }
}
