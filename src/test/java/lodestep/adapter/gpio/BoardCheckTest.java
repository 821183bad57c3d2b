package lodestep.adapter.gpio;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lodestep.adapter.gpio.BoardCheck.Chip;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a board that cannot be driven is refused in words that say what to do. */
class BoardCheckTest {

  private static final Chip MINE = new Chip(Path.of("/dev/gpiochip0"), true, "gpio");
  private static final Chip DENIED = new Chip(Path.of("/dev/gpiochip4"), false, "gpio");

  @Test
  void findsNothingWrongWithABoardWhoseChipsOpen() {
    assertThat(BoardCheck.obstacle(true, List.of(MINE))).isEmpty();
  }

  @Test
  void refusesAComputerThatTheLibraryDoesNotKnow() {
    assertThat(BoardCheck.obstacle(false, List.of(MINE)))
        .hasValueSatisfying(why -> assertThat(why).contains("no board whose lines can be driven"));
  }

  @Test
  void refusesABoardWithoutChips() {
    assertThat(BoardCheck.obstacle(true, List.of()))
        .hasValueSatisfying(why -> assertThat(why).contains("/dev/gpiochip0"));
  }

  @Test
  void namesTheGroupToJoinForAChipThatMayNotBeDriven() {
    assertThat(BoardCheck.obstacle(true, List.of(MINE, DENIED)))
        .hasValueSatisfying(
            why ->
                assertThat(why).contains("/dev/gpiochip4").contains("sudo usermod -aG gpio $USER"));
  }

  @Test
  void sendsNobodyIntoTheGroupOfTheSystemItself() {
    Chip roots = new Chip(Path.of("/dev/gpiochip0"), false, "root");

    assertThat(BoardCheck.obstacle(true, List.of(roots)))
        .hasValueSatisfying(
            why -> assertThat(why).doesNotContain("usermod").contains("udev rules"));
  }

  @Test
  void findsTheChipsOfAFolderByTheirNames(@TempDir Path devices) throws IOException {
    Files.createFile(devices.resolve("gpiochip1"));
    Files.createFile(devices.resolve("gpiochip0"));
    Files.createFile(devices.resolve("ttyS0"));

    assertThat(BoardCheck.chips(devices))
        .extracting(chip -> chip.path().getFileName().toString())
        .containsExactly("gpiochip0", "gpiochip1");
    assertThat(BoardCheck.chips(devices)).allMatch(Chip::allowed);
    assertThat(BoardCheck.chips(devices.resolve("gone"))).isEmpty();
  }
}
