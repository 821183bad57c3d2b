package lodestep.cli;

import java.util.Optional;
import java.util.stream.Collectors;
import lodestep.paper.BuildNotes;
import picocli.CommandLine.Option;

/** Levels that were chosen, as plan and note have them. */
final class ChoiceOptions {

  @Option(
      names = "--levels",
      paramLabel = "LEVELS",
      description =
          "of each position, the lowest string first, with semicolons between; one level for one"
              + " bar; those of --like if left out")
  private String levels = "";

  @Option(
      names = "--tolerance",
      paramLabel = "TOLERANCE",
      description = "half width, \"9 G\" or \"2 %%\"; that of --like if left out")
  private String tolerance = "";

  /** As said here, or else as the past build's note has them. */
  String levels(Optional<BuildNotes.Note> like) {
    if (!levels.isBlank()) {
      return levels;
    }
    return like.map(ChoiceOptions::levels)
        .orElseThrow(
            () ->
                new Refusal(
                    "--levels: say the level of each position, the lowest string first, or name a"
                        + " past build by --like"));
  }

  /** As this note has them. */
  static String levels(BuildNotes.Note note) {
    return note.event().levelsMicroTesla().stream()
        .map(ChoiceOptions::gauss)
        .collect(Collectors.joining("; "));
  }

  /** As said here, or else as the past build's note has it; empty where neither says any. */
  String tolerance(Optional<BuildNotes.Note> like) {
    if (!tolerance.isBlank()) {
      return tolerance;
    }
    return like.map(note -> note.event().toleranceMicroTesla())
        .filter(half -> half > 0)
        .map(ChoiceOptions::gauss)
        .orElse("");
  }

  /** To the microtesla, as a note keeps it. */
  static String gauss(long microTesla) {
    return MagnetCommands.said("%.2f G", microTesla / 100.0);
  }
}
