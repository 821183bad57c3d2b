package lodestep.cli;

import lodestep.voice.Said;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** A pickup's coil, as it is described on a command line. */
final class CoilOptions extends SaidOptions {

  @Option(names = "--inductance", paramLabel = "INDUCTANCE", description = "of the coil: \"3.4 H\"")
  void inductance(@Nullable String words) {
    say(Said.INDUCTANCE, words);
  }

  @Option(names = "--turns", paramLabel = "NUMBER", description = "of the coil, if no inductance")
  void turns(@Nullable String words) {
    say(Said.TURNS, words);
  }

  @Option(
      names = "--winding",
      paramLabel = "SIZE",
      description = "with --turns: the copper, height x depth, \"11 x 3.6 mm\"")
  void winding(@Nullable String words) {
    say(Said.WINDING, words);
  }

  @Option(
      names = "--cores",
      paramLabel = "SIZE",
      description = "with --turns: the round cores in it, diameter x length")
  void cores(@Nullable String words) {
    say(Said.CORES, words);
  }

  @Option(
      names = "--cores-of",
      paramLabel = "ALLOY",
      description = "what they are made of; soft steel if left out")
  void coresOf(@Nullable String words) {
    say(Said.CORES_OF, words);
  }

  @Option(names = "--count", paramLabel = "NUMBER", description = "how many cores; 6 if left out")
  void count(@Nullable String words) {
    say(Said.COUNT, words);
  }

  @Option(
      names = "--resistance",
      paramLabel = "RESISTANCE",
      description = "of the coil: \"6.9 kohm\"")
  void resistance(@Nullable String words) {
    say(Said.RESISTANCE, words);
  }

  @Option(
      names = "--capacitance",
      paramLabel = "CAPACITANCE",
      description = "of coil and cable together: \"640 pF\"")
  void capacitance(@Nullable String words) {
    say(Said.CAPACITANCE, words);
  }

  @Option(
      names = "--load",
      paramLabel = "RESISTANCE",
      description = "potentiometers and amplifier together: \"210 kohm\"")
  void load(@Nullable String words) {
    say(Said.LOAD, words);
  }
}
