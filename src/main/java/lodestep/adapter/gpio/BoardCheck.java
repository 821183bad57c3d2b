package lodestep.adapter.gpio;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Whether this computer has lines that this user may drive, before the library is asked. */
final class BoardCheck {

  /** Groups that a person is not told to join for a device's sake. */
  private static final Set<String> GROUPS_NOT_TO_JOIN = Set.of("root", "wheel", "nogroup");

  /**
   * A chip with lines.
   *
   * @param allowed whether this user may drive its lines
   * @param group the group that owns it; empty where the system does not say
   */
  record Chip(Path path, boolean allowed, String group) {}

  private BoardCheck() {}

  /** The chips that the system shows in this folder, by name. */
  static List<Chip> chips(Path devices) {
    List<Chip> chips = new ArrayList<>();
    try (DirectoryStream<Path> found = Files.newDirectoryStream(devices, "gpiochip*")) {
      for (Path path : found) {
        chips.add(new Chip(path, Files.isReadable(path) && Files.isWritable(path), group(path)));
      }
    } catch (IOException unreadable) {
      // A folder that cannot be listed shows no chip, and that is what a person is told.
      return List.of();
    }
    chips.sort(Comparator.comparing(chip -> chip.path().toString()));
    return chips;
  }

  private static String group(Path path) {
    try {
      return Files.readAttributes(path, PosixFileAttributes.class, new LinkOption[0])
          .group()
          .getName();
    } catch (IOException | UnsupportedOperationException unknown) {
      return "";
    }
  }

  /**
   * Why the lines cannot be driven: one sentence, what, where, what to do.
   *
   * @param boardKnown whether the library knows this kind of board
   */
  static Optional<String> obstacle(boolean boardKnown, List<Chip> chips) {
    if (!boardKnown) {
      return Optional.of(
          "this computer is no board whose lines can be driven, but the rig is a real one; run on a"
              + " Raspberry Pi, or name a rig.toml of kind \"virtual\"");
    }
    if (chips.isEmpty()) {
      return Optional.of(
          "this board shows no lines: there is no /dev/gpiochip0; start the board's own system, and"
              + " in a container hand the device in");
    }
    // The board's own chip is found by its label, which only an open chip tells: all must open.
    return chips.stream().filter(chip -> !chip.allowed()).findFirst().map(BoardCheck::denied);
  }

  private static String denied(Chip chip) {
    boolean joinable = !chip.group().isEmpty() && !GROUPS_NOT_TO_JOIN.contains(chip.group());
    return "you may not drive the board's lines ("
        + chip.path()
        + "); "
        + (joinable
            ? "join its group by 'sudo usermod -aG " + chip.group() + " $USER', then log in again"
            : "install the udev rules of firmware-host/board, then start the board again");
  }
}
