package lodestep.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Optional;
import lodestep.adapter.plot.PlotFile;
import lodestep.cli.Refusal;
import lodestep.port.Plot;

/** Curves into files. */
final class Drawing {

  private Drawing() {}

  /** Whole or not at all: it is written beside the file and takes its place at the end. */
  static void write(Plot plot, Path file) {
    String name = Optional.ofNullable(file.getFileName()).map(Path::toString).orElse("");
    try {
      replace(PlotFile.of(plot, name), file);
    } catch (IllegalArgumentException otherwise) {
      throw new Refusal("--plot: " + otherwise.getMessage());
    } catch (IOException unwritten) {
      throw new Refusal(
          "--plot: cannot write " + file + "; see that its folder is there and has room");
    }
  }

  /** Puts these bytes in the file's place, once all of them are on the disk beside it. */
  static void replace(byte[] bytes, Path file) throws IOException {
    boolean there = Files.exists(file, LinkOption.NOFOLLOW_LINKS);
    if (there && !Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
      // A device, a pipe or a link would be gone, with the file in its place.
      throw new Refusal(file + " is there and is no ordinary file; name another file");
    }
    String name = Optional.ofNullable(file.getFileName()).map(Path::toString).orElse("");
    Path beside = file.resolveSibling(name + ".part");
    try {
      Files.write(beside, bytes);
      Files.move(beside, file, StandardCopyOption.REPLACE_EXISTING);
    } finally {
      Files.deleteIfExists(beside);
    }
  }
}
