package lodestep.cli;

import picocli.CommandLine.Option;

/** Levels that were chosen, as plan and note have them. */
final class ChoiceOptions {

  @Option(
      names = "--levels",
      paramLabel = "LEVELS",
      required = true,
      description = "of each position, with semicolons between; one level for one bar")
  private String levels = "";

  @Option(
      names = "--tolerance",
      paramLabel = "TOLERANCE",
      description = "half width, \"9 G\" or \"2 %%\"")
  private String tolerance = "";

  String levels() {
    return levels;
  }

  String tolerance() {
    return tolerance;
  }
}
