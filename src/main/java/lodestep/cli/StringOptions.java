package lodestep.cli;

import lodestep.voice.Said;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What is about the magnet: poles of steel, neighbours, and the strings above. */
final class StringOptions extends SaidOptions {

  @Option(
      names = "--poles",
      paramLabel = "SIZE",
      description = "soft steel pole pieces about a bar, diameter x length; none if left out")
  void poles(@Nullable String words) {
    say(Said.POLES, words);
  }

  @Option(
      names = "--arranged",
      paramLabel = "WORDS",
      description =
          "where the bar lies: \"between two rows\", \"either side of one row\", \"under one row\";"
              + " the first if left out")
  void arranged(@Nullable String words) {
    say(Said.ARRANGED, words);
  }

  @Option(
      names = "--keeper",
      paramLabel = "SIZE",
      description = "a steel bar the poles go through, length x width x height; none if left out")
  void keeper(@Nullable String words) {
    say(Said.KEEPER, words);
  }

  @Option(
      names = {"--pole-up", "--poles-up"},
      paramLabel = "POLES",
      description =
          "north or south towards the strings: one word, or one for each in the order in which"
              + " the strings are written; north if left out")
  void polesUp(@Nullable String words) {
    say(Said.POLES_UP, words);
  }

  @Option(
      names = "--pitch",
      paramLabel = "LENGTH",
      description = "from string to string at the pickup; 10.2 mm if left out")
  void pitch(@Nullable String words) {
    say(Said.PITCH, words);
  }

  @Option(
      names = "--distance",
      paramLabel = "DISTANCE",
      description = "from the pole's face to the middle of a string; 2.8 mm if left out")
  void distance(@Nullable String words) {
    say(Said.DISTANCE, words);
  }

  @Option(
      names = "--scale",
      paramLabel = "LENGTH",
      description = "that vibrates; 640 mm if left out")
  void scale(@Nullable String words) {
    say(Said.SCALE, words);
  }

  @Option(
      names = "--from-bridge",
      paramLabel = "LENGTH",
      description = "where the pole stands; 150 mm if left out")
  void fromBridge(@Nullable String words) {
    say(Said.FROM_BRIDGE, words);
  }

  @Option(
      names = "--strings",
      paramLabel = "STRINGS",
      description = "diameter in mm and note, \"0.28 E4; 0.66/0.38 D3\"; six if left out")
  void strings(@Nullable String words) {
    say(Said.STRINGS, words);
  }
}
