package lodestep.soak;

import java.util.List;
import java.util.Optional;

/**
 * What one seed came to, the runs beside it counted in. Any thread, immutable.
 *
 * @param rig the kind of rig it was played on
 * @param runs all that was played for it and counts: the quiet run, the run itself, the same again
 * @param failed the run that broke a rule, made short
 * @param problem what is wrong with the harness itself, in one sentence: two runs of one seed that
 *     differ, or a planted mistake that nobody saw
 * @param canary the planted mistake that was found as it should be
 */
public record SeedReport(
    SoakRig rig,
    long seed,
    List<RunResult> runs,
    Optional<SavedRun> failed,
    Optional<String> problem,
    Optional<Planted> canary) {

  public SeedReport {
    runs = List.copyOf(runs);
  }
}
