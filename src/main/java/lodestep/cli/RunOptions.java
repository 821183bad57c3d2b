package lodestep.cli;

import java.nio.file.Path;
import java.util.Optional;
import lodestep.bench.Plan;
import lodestep.config.RigConfig;
import lodestep.dial.PlannerMode;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What can be said with every command that works on magnets. Filled by the command line. */
final class RunOptions {

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml; the virtual rig if left out")
  private @Nullable Path rigFile;

  @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
  private @Nullable Path ledger;

  @Option(
      names = "--small-steps",
      description = "plain equal steps, whatever is expected of the curve")
  private boolean smallSteps;

  @Option(
      names = "--seed",
      paramLabel = "NUMBER",
      defaultValue = "1",
      description = "of a virtual rig: another seed, another stock")
  private long seed;

  @Option(names = "--json", description = "the result as JSON, everything else on stderr")
  private boolean json;

  boolean json() {
    return json;
  }

  RigConfig rig(Program program) {
    return program.rig(Optional.ofNullable(rigFile));
  }

  Path ledger(Program program, RigConfig rig) {
    return ledger == null ? program.usualLedger(rig) : ledger;
  }

  /** The rig and the ledger as they were named, to be repeated after a command; may be empty. */
  String named() {
    return named("--rig", rigFile) + named("--ledger", ledger);
  }

  private static String named(String option, @Nullable Path file) {
    if (file == null) {
      return "";
    }
    String text = file.toString();
    boolean plain = text.matches("[\\p{L}\\p{N}/._+:@-]+");
    return " " + option + " " + (plain ? text : "'" + text.replace("'", "'\\''") + "'");
  }

  Program.Run run(Program program, RigConfig rig, Optional<Plan> plan) {
    PlannerMode mode = smallSteps ? PlannerMode.SMALL_STEPS : PlannerMode.CURVE;
    return new Program.Run(rig, plan, ledger(program, rig), plan.isEmpty(), mode, seed);
  }
}
