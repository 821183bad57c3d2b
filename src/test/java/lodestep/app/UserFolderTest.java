package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** Source: XDG Base Directory Specification 0.8, "Environment variables", from memory. */
class UserFolderTest {

  private static Path data(Map<String, String> environment) {
    return UserFolder.of(environment, "XDG_DATA_HOME", ".local/share");
  }

  @Test
  void liesInTheFolderThatIsNamed() {
    assertThat(data(Map.of("XDG_DATA_HOME", "/srv/bench", "HOME", "/home/loft")))
        .isEqualTo(Path.of("/srv/bench/lodestep"));
  }

  @Test
  void liesBelowTheHomeWhenNoneOrNoAbsoluteOneIsNamed() {
    Path usual = Path.of("/home/loft/.local/share/lodestep");

    assertThat(data(Map.of("HOME", "/home/loft"))).isEqualTo(usual);
    assertThat(data(Map.of("XDG_DATA_HOME", "", "HOME", "/home/loft"))).isEqualTo(usual);
    assertThat(data(Map.of("XDG_DATA_HOME", "bench", "HOME", "/home/loft"))).isEqualTo(usual);
  }

  @Test
  void liesBelowTheAccountsHomeWhenTheEnvironmentNamesNone() {
    assertThat(data(Map.of()))
        .isEqualTo(Path.of(System.getProperty("user.home"), ".local/share/lodestep"));
  }
}
