package lodestep.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.bench.Plan;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigKind;
import lodestep.dial.PlannerMode;
import lodestep.dial.Verdict;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetNames;
import lodestep.ledger.Proof;
import lodestep.port.LedgerArchive;
import lodestep.port.TripCause;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** The commands. Exit codes: 0 done, 1 not accepted, 2 bad input, 3 tripped. */
@Command(name = "lodestep", subcommands = CommandLine.HelpCommand.class)
public final class Commands implements Runnable {

  private static final int DONE = 0;
  private static final int NOT_ACCEPTED = 1;
  private static final int BAD_INPUT = 2;
  private static final int TRIPPED = 3;

  private static final String DEMO_PLAN = "split-six.csv";

  private final Program program;

  @Spec private @Nullable CommandSpec spec;

  private Commands(Program program) {
    this.program = program;
  }

  /** Runs one command line and returns its exit code. */
  public static int run(Program program, String... arguments) {
    Commands commands = new Commands(program);
    CommandLine line = new CommandLine(commands);
    line.getCommandSpec().version("lodestep " + program.version());
    line.getCommandSpec()
        .usageMessage()
        .description(
            "Charges small magnets and knocks them down to an asked level, hands-free, with a"
                + " record of every pulse.")
        .footer("", "Try it with no hardware: lodestep demo");
    line.getCommandSpec().addMixin("help", CommandSpec.forAnnotatedObject(new HelpOptions()));
    line.setExecutionExceptionHandler(
        (thrown, command, parsed) -> {
          if (thrown instanceof Refusal) {
            command.getErr().println("lodestep: " + thrown.getMessage());
            command.getErr().flush();
            return BAD_INPUT;
          }
          throw thrown;
        });
    return line.execute(arguments);
  }

  /** Options every command has. */
  @Command(mixinStandardHelpOptions = true)
  static final class HelpOptions {}

  @Override
  public void run() {
    CommandLine line = line();
    line.usage(line.getOut());
  }

  @Command(
      name = "demo",
      mixinStandardHelpOptions = true,
      description = "Runs a batch on the virtual rig and shows its table and one magnet's history.",
      footer = {"", "Example: lodestep demo --seed 7"})
  int demo(
      @Option(names = "--seed", description = "another seed, another stock", defaultValue = "1")
          long seed,
      @Option(names = "--rig", description = "a virtual rig.toml; the built-in rig when left out")
          @Nullable Path rigFile,
      @Option(names = "--ledger", description = "the ledger's file") @Nullable Path ledger,
      @Option(names = "--small-steps", description = "plain equal steps instead of the secant")
          boolean smallSteps) {
    RigConfig rig = program.rig(Optional.ofNullable(rigFile));
    Path file = ledger == null ? program.usualLedger(rig) : ledger;
    PrintWriter out = line().getOut();
    String which = rigFile == null ? "the built-in rig" : "the " + rig.name();
    out.println("VIRTUAL: " + which + ", no hardware; a batch of six rods from 'split-six.csv'");
    Cautions.show(out);
    Program.Run run =
        new Program.Run(
            rig,
            Optional.of(program.suppliedPlan(DEMO_PLAN, rig)),
            file,
            false,
            mode(smallSteps),
            seed);
    Program.Outcome outcome = program.run(run, new BatchReport(out));
    int code = report(out, outcome);
    long first = outcome.batch().entries().get(0).magnet();
    out.println();
    showHistory(out, file, String.valueOf(first));
    out.println();
    out.println("Every pulse is in " + file + "; prove it whole with: lodestep prove");
    out.flush();
    return code;
  }

  @Command(
      name = "batch",
      mixinStandardHelpOptions = true,
      description = "Dials the magnets of a plan, or goes on with the batch left open.",
      footer = {"", "Examples: lodestep batch order.csv", "          lodestep batch --continue"})
  int batch(
      @Parameters(arity = "0..1", paramLabel = "PLAN", description = "a CSV file, a row a magnet")
          @Nullable Path plan,
      @Option(names = "--continue", description = "go on with the newest batch left open")
          boolean continued,
      @Option(names = "--rig", description = "rig.toml; the virtual rig when left out")
          @Nullable Path rigFile,
      @Option(names = "--ledger", description = "the ledger's file") @Nullable Path ledger,
      @Option(names = "--small-steps", description = "plain equal steps instead of the secant")
          boolean smallSteps,
      @Option(names = "--seed", description = "of the virtual rig", defaultValue = "1") long seed) {
    if (continued == (plan != null)) {
      throw new Refusal("name a plan, or say --continue, one of the two");
    }
    RigConfig rig = program.rig(Optional.ofNullable(rigFile));
    Path file = ledger == null ? program.usualLedger(rig) : ledger;
    Optional<Plan> read = Optional.ofNullable(plan).map(given -> program.plan(given, rig));
    PrintWriter out = line().getOut();
    if (rig.kind() == RigKind.VIRTUAL) {
      out.println("VIRTUAL: the built-in rig, no hardware");
    }
    Cautions.show(out);
    Program.Run run = new Program.Run(rig, read, file, continued, mode(smallSteps), seed);
    return report(out, program.run(run, new BatchReport(out)));
  }

  @Command(
      name = "plan",
      mixinStandardHelpOptions = true,
      description = "Checks a plan and shows it as understood; nothing is started.",
      footer = {"", "Example: lodestep plan order.csv"})
  int plan(
      @Parameters(paramLabel = "PLAN", description = "a CSV file, a row a magnet") Path plan,
      @Option(names = "--rig", description = "rig.toml; the virtual rig when left out")
          @Nullable Path rigFile) {
    RigConfig rig = program.rig(Optional.ofNullable(rigFile));
    print(PlanTable.of(program.plan(plan, rig)).lines());
    return DONE;
  }

  @Command(
      name = "history",
      mixinStandardHelpOptions = true,
      description = "Shows all that is on record of one magnet.",
      footer = {"", "Example: lodestep history split-3"})
  int history(
      @Parameters(paramLabel = "MAGNET", description = "its number or its name") String magnet,
      @Option(names = "--ledger", description = "the ledger's file") @Nullable Path ledger) {
    showHistory(line().getOut(), ledgerOr(ledger), magnet);
    return DONE;
  }

  @Command(
      name = "prove",
      mixinStandardHelpOptions = true,
      description = "Proves that the ledger is whole, or names the first entry that is not.",
      footer = {"", "Example: lodestep prove"})
  int prove(@Option(names = "--ledger", description = "the ledger's file") @Nullable Path ledger) {
    try (LedgerArchive archive = program.archive(ledgerOr(ledger))) {
      Proof.Result result = Proof.of(archive, List.of());
      print(List.of(result.words()));
      return result.match(whole -> DONE, broken -> NOT_ACCEPTED);
    }
  }

  @Command(
      name = "interlocks",
      mixinStandardHelpOptions = true,
      description = "Lists every reason for which the rig lets go, and what to do then.",
      footer = {"", "Example: lodestep interlocks"})
  int interlocks() {
    List<List<String>> rows = new ArrayList<>();
    for (TripCause cause : TripCause.values()) {
      rows.add(List.of(String.valueOf(cause.code()), cause.what(), cause.why(), cause.remedy()));
    }
    Table table =
        new Table(
            List.of(
                Table.Column.ofNumbers("trip"),
                Table.Column.ofWords("what"),
                Table.Column.ofWords("why"),
                Table.Column.ofWords("what to do")),
            rows);
    print(table.lines());
    return DONE;
  }

  @Command(
      name = "rig",
      mixinStandardHelpOptions = true,
      description = "Checks rig.toml and shows the rig as understood.",
      footer = {"", "Example: lodestep rig rig.toml"})
  int rig(
      @Parameters(arity = "0..1", paramLabel = "RIG", description = "rig.toml")
          @Nullable Path rigFile) {
    print(List.of(RigFile.show(program.rig(Optional.ofNullable(rigFile)))));
    return DONE;
  }

  private static PlannerMode mode(boolean smallSteps) {
    return smallSteps ? PlannerMode.SMALL_STEPS : PlannerMode.SECANT;
  }

  private Path ledgerOr(@Nullable Path ledger) {
    return ledger == null ? program.usualLedger(program.rig(Optional.empty())) : ledger;
  }

  private int report(PrintWriter out, Program.Outcome outcome) {
    out.println();
    BatchReport.table(outcome.batch()).lines().forEach(out::println);
    out.println();
    out.println(BatchReport.summary(outcome));
    out.flush();
    if (outcome.tripped() && outcome.batch().open() > 0) {
      return TRIPPED;
    }
    boolean all = outcome.batch().count(Verdict.ACCEPTED) == outcome.batch().entries().size();
    return all ? DONE : NOT_ACCEPTED;
  }

  private void showHistory(PrintWriter out, Path ledger, String magnet) {
    try (LedgerArchive archive = program.archive(ledger)) {
      List<Long> numbers = found(MagnetNames.of(archive).find(magnet), magnet);
      for (long number : numbers) {
        MagnetHistory history =
            MagnetHistory.of(archive, number)
                .orElseThrow(() -> new Refusal("no magnet " + number + " on record"));
        out.printf(
            Locale.ROOT,
            "History of magnet %d, %s: %s, pole up %s%n",
            number,
            history.identity().name(),
            history.identity().alloy(),
            history.identity().poleUp());
        HistoryTable.of(history).lines().forEach(out::println);
        out.flush();
      }
    }
  }

  private static List<Long> found(MagnetNames.Search search, String asked) {
    if (search instanceof MagnetNames.Search.Found found) {
      return found.magnets();
    }
    List<String> nearest = ((MagnetNames.Search.Unknown) search).nearest();
    throw new Refusal(
        nearest.isEmpty()
            ? "no magnet is on record yet"
            : "no magnet '"
                + asked
                + "' is on record; the nearest names are "
                + String.join(", ", nearest));
  }

  private void print(List<String> lines) {
    PrintWriter out = line().getOut();
    lines.forEach(out::println);
    out.flush();
  }

  private CommandLine line() {
    if (spec == null) {
      throw new IllegalStateException("no command line yet");
    }
    return spec.commandLine();
  }
}
