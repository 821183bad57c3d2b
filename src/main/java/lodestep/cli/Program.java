package lodestep.cli;

import java.nio.file.Path;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.Plan;
import lodestep.config.RigConfig;
import lodestep.dial.PlannerMode;
import lodestep.port.LedgerArchive;

/** What the commands need of the program behind them. Every refusal is a {@link Refusal}. */
public interface Program {

  /** The rig of this file, or the virtual reference rig when none is named. */
  RigConfig rig(Optional<Path> rigFile);

  /** Reads a plan file for this rig. */
  Plan plan(Path planFile, RigConfig rig);

  /** Reads one of the plans that come with the program. */
  Plan suppliedPlan(String name, RigConfig rig);

  /** Reads a plan from its text, for example the ledger's. */
  Plan planText(String name, String text, RigConfig rig);

  /** Opens a ledger for reading only; other programs may write it meanwhile. */
  LedgerArchive archive(Path ledgerFile);

  /** The ledger used when none is named, for this rig. */
  Path usualLedger(RigConfig rig);

  /** Runs a batch to its end, telling the watcher of each verdict. */
  Outcome run(Run run, Watcher watcher);

  /** The version in words. */
  String version();

  /**
   * A batch to run.
   *
   * @param seed of the virtual rig
   * @param ledgerFile where every event goes
   * @param continued whether the newest batch left open in the ledger goes on; the plan is its own
   */
  record Run(
      RigConfig rig,
      Optional<Plan> plan,
      Path ledgerFile,
      boolean continued,
      PlannerMode mode,
      long seed) {}

  /**
   * How a run ended.
   *
   * @param rigSeconds virtual time it took
   * @param wallSeconds time it took here
   */
  record Outcome(
      Batch batch, boolean tripped, boolean stopped, double rigSeconds, double wallSeconds) {}

  /** Is told what happens. */
  interface Watcher {

    /** The batch changed: a verdict was given. */
    void verdict(Batch batch, int done, double rigSeconds);

    /** The rig tripped; one sentence. */
    void trip(String sentence);
  }
}
