package lodestep.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.Plan;
import lodestep.bench.PlanDoubts;
import lodestep.bench.PlanReading;
import lodestep.bench.PlanRow;
import lodestep.config.KnockDownBy;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.dial.Progress;
import lodestep.dial.Verdict;
import lodestep.measure.SettledReading;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Commands that work on magnets. */
final class WorkCommands {

  private static final String DEMO_PLAN = "split-six.csv";

  /** For a rig whose source drives one way only. */
  private static final String ONE_POLE_PLAN = "one-pole-four.csv";

  private WorkCommands() {}

  @Command(
      name = "demo",
      description = "Runs a batch on the virtual rig, and shows its table and a magnet's history.",
      footer = {"", "Example: lodestep demo --seed 7"})
  static final class Demo extends Asked {

    private final Desk desk;

    @Mixin private RunOptions options = new RunOptions();

    Demo(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      Program program = desk.program();
      RigConfig rig = options.rig(program);
      if (rig.kind() != RigKind.VIRTUAL) {
        throw new Refusal(
            "the demo is for virtual rigs, and '" + rig.name() + "' is real; see: lodestep batch");
      }
      String name = rig.sources().knockDown() == KnockDownBy.JIG ? ONE_POLE_PLAN : DEMO_PLAN;
      Plan plan = Desk.understood(program.suppliedPlan(name, rig));
      PrintWriter told = told(desk, options);
      told.println("A batch of " + plan.magnets().size() + " rods, plan '" + name + "'.");
      Program.Run run = options.run(program, rig, Optional.of(plan));
      Program.Outcome outcome = run(desk, options, run, new BatchReport(told));
      if (!options.json() && !outcome.stopped()) {
        desk.out().println();
        RecordCommands.show(
            desk, rig, run.ledgerFile(), String.valueOf(outcome.batch().entries().get(0).magnet()));
        desk.out().println();
        desk.out().println("Every pulse is in " + run.ledgerFile());
        desk.out().println("Prove it whole with: lodestep prove" + options.named());
        desk.out().flush();
      }
      return code(outcome);
    }
  }

  @Command(
      name = "batch",
      description = "Dials the magnets of a plan, or goes on with the batch left open.",
      footer = {
        "",
        "Examples: lodestep plan --example > order.csv",
        "          lodestep batch order.csv",
        "          lodestep batch --continue"
      })
  static final class OfPlan extends Asked {

    private final Desk desk;

    @Parameters(arity = "0..1", paramLabel = "PLAN", description = "a CSV file, a row a magnet")
    @Nullable
    private Path planFile;

    @Option(names = "--continue", description = "go on with the newest batch left open")
    private boolean continued;

    @Mixin private RunOptions options = new RunOptions();

    OfPlan(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      if (continued == (planFile != null)) {
        throw new Refusal("name a plan, or say --continue, one of the two");
      }
      RigConfig rig = options.rig(desk.program());
      Optional<Plan> plan =
          Optional.ofNullable(planFile)
              .map(
                  file ->
                      Desk.understood(
                          desk.program().plan(file, rig, options.ledger(desk.program(), rig))));
      Program.Run run = options.run(desk.program(), rig, plan);
      return code(run(desk, options, run, new BatchReport(told(desk, options))));
    }
  }

  @Command(
      name = "dial",
      description = "Dials one magnet and tells each pulse and reading.",
      footer = {
        "",
        "Examples:",
        "  lodestep dial --alloy \"alnico 2\" --size \"5.1 x 18 mm\" --pole-up south \\",
        "    --target \"430 G\" --tolerance \"8 G\"",
        "  lodestep dial --alloy \"alnico 3\" --size \"0.193 x 0.65 in\" \\",
        "    --target demagnetise"
      })
  static final class OfOne extends Asked {

    private final Desk desk;

    @Mixin private OneMagnet magnet = new OneMagnet();
    @Mixin private RunOptions options = new RunOptions();

    OfOne(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = options.rig(desk.program());
      Path ledger = options.ledger(desk.program(), rig);
      Optional<String> taken = magnet.remark(desk.program(), ledger);
      String text = magnet.planText(desk.program(), ledger);
      PlanReading reading = desk.program().planText("one magnet", text, rig, ledger);
      Plan plan =
          reading.match(
              good -> good,
              refused -> {
                throw OneMagnet.refusal(refused);
              });
      taken.ifPresent(desk::remark);
      Program.Run run = options.run(desk.program(), rig, Optional.of(plan));
      return code(run(desk, options, run, new StepReport(told(desk, options))));
    }
  }

  /** What a level told by a hand gauge is in the nest. */
  static String told(PlanRow row) {
    return String.format(
        Locale.ROOT,
        "%s: %s is %s ± %s in the %s, what the relation is not known to taken off the tolerance.",
        row.name(),
        row.told().map(PlanRow.Told::words).orElse(""),
        row.task().targetWords(),
        row.task().toleranceWords(),
        row.nest().name());
  }

  /** What the hand gauge is to read, by which the level was told. */
  static Optional<String> toldReading(PlanRow row, String name, SettledReading read) {
    return row.told()
        .flatMap(
            by ->
                by.reads(read)
                    .map(
                        level ->
                            String.format(
                                Locale.ROOT,
                                "%s: %s is to read %s ± %.1f G (k = 2).",
                                name,
                                by.gauge(),
                                level.value().inGauss(),
                                2 * new FluxDensity(level.uncertainty().value()).gauss())));
  }

  static PrintWriter told(Desk desk, RunOptions options) {
    return options.json() ? desk.err() : desk.out();
  }

  static Program.Outcome run(
      Desk desk, RunOptions options, Program.Run run, Program.Watcher watcher) {
    PrintWriter told = told(desk, options);
    if (run.rig().kind() == RigKind.VIRTUAL) {
      told.println("VIRTUAL: " + run.rig().name() + ", no hardware");
    }
    Cautions.showFor(run.rig(), told);
    run.plan().map(Plan::rows).orElse(List.of()).stream()
        .filter(row -> row.told().isPresent())
        .map(WorkCommands::told)
        .forEach(told::println);
    tellDoubts(run, told);
    Program.Outcome outcome = desk.program().run(run, watcher);
    if (options.json()) {
      desk.print(Json.ofOutcome(run, outcome));
      return outcome;
    }
    desk.out().println();
    desk.print(BatchReport.table(outcome.batch()).lines());
    desk.out().println();
    outcome.batch().entries().stream()
        .flatMap(
            entry ->
                entry
                    .result()
                    .flatMap(Progress::last)
                    .flatMap(read -> toldReading(entry.prepared().row(), entry.name(), read))
                    .stream())
        .forEach(desk.out()::println);
    desk.out().println(BatchReport.summary(outcome));
    desk.print(BatchReport.minds(outcome.batch()));
    if (outcome.batch().open() > 0) {
      desk.out().println("Go on with: lodestep batch --continue" + options.named());
    }
    desk.out().flush();
    return outcome;
  }

  /** What may well not be had is said before anything is charged; a batch that goes on said it. */
  private static void tellDoubts(Program.Run run, PrintWriter told) {
    run.plan().map(plan -> PlanDoubts.of(plan, run.rig())).orElse(List.of()).stream()
        .map(doubt -> "Mind " + doubt)
        .forEach(told::println);
    told.flush();
  }

  static int code(Program.Outcome outcome) {
    Batch batch = outcome.batch();
    if (outcome.tripped() && batch.open() > 0) {
      return Desk.TRIPPED;
    }
    boolean all = batch.count(Verdict.ACCEPTED) == batch.entries().size();
    return all ? Desk.DONE : Desk.NOT_ACCEPTED;
  }
}
