package lodestep.cli;

import java.util.concurrent.Callable;
import picocli.CommandLine.Option;

/** A command with its options filled in; its call returns the exit code. */
abstract class Asked implements Callable<Integer> {

  /** Read by the command line itself, which then shows the text instead of calling. */
  @SuppressWarnings("UnusedVariable")
  @Option(
      names = {"-h", "--help"},
      usageHelp = true,
      description = "shows this text")
  private boolean help;

  /** Narrowed: refusals are {@link Refusal}, anything else thrown is a fault of the program. */
  @Override
  public abstract Integer call();
}
