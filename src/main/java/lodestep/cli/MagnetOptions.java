package lodestep.cli;

import lodestep.voice.Said;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The magnet of a pickup, as it is described on a command line. */
final class MagnetOptions extends SaidOptions {

  @Option(
      names = "--like",
      paramLabel = "NAME",
      description = "a past build: what is not said here is as its notes have it")
  private @Nullable String like;

  @Option(
      names = "--alloy",
      paramLabel = "ALLOY",
      description = "for example \"alnico 3\", or a [[lot]] of the rig")
  void alloy(@Nullable String words) {
    say(Said.ALLOY, words);
  }

  @Option(
      names = "--shape",
      paramLabel = "SHAPE",
      description =
          "rod, ring, bar, \"bar through thickness\", \"bar along length\"; rod if left out")
  void shape(@Nullable String words) {
    say(Said.SHAPE, words);
  }

  @Option(
      names = "--size",
      paramLabel = "SIZE",
      description =
          "\"4.6 x 15.5 mm\"; of a ring outside x inside x length, of a bar length x width x"
              + " thickness")
  void size(@Nullable String words) {
    say(Said.SIZE, words);
  }

  @Nullable String like() {
    return like;
  }
}
