package lodestep.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import lodestep.port.LedgerException;
import lodestep.quantity.Nearest;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** The command line. Exit codes: 0 done, 1 not accepted, 2 bad input, 3 tripped. */
@Command(name = "lodestep", subcommands = CommandLine.HelpCommand.class)
public final class Commands implements Runnable, IVersionProvider {

  private static final int COLUMNS = 80;

  private final Program program;

  @Spec private @Nullable CommandSpec spec;

  private Commands(Program program) {
    this.program = program;
  }

  /**
   * Runs one command line.
   *
   * @param out takes what was asked for
   * @param err takes refusals, progress beside JSON, and help after a mistake
   * @return the exit code
   */
  public static int run(Program program, PrintWriter out, PrintWriter err, String... arguments) {
    return line(program, out, err).execute(arguments);
  }

  /** Every command there is. */
  static CommandLine line(Program program, PrintWriter out, PrintWriter err) {
    Desk desk = new Desk(program, out, err);
    Commands root = new Commands(program);
    CommandLine line = new CommandLine(root);
    work(desk).forEach(line::addSubcommand);
    records(desk).forEach(line::addSubcommand);
    line.addSubcommand(magnet(desk));
    line.addSubcommand(gauge(desk));
    line.addSubcommand(pickup(desk));
    line.addSubcommand(voice(desk));
    line.addSubcommand(lot(desk));
    line.addSubcommand(order(desk));
    describe(line.getCommandSpec().mixinStandardHelpOptions(true).versionProvider(root));
    line.registerConverter(Long.class, Commands::wholeNumber);
    line.registerConverter(long.class, Commands::wholeNumber);
    line.setOut(out);
    line.setErr(err);
    line.setUsageHelpAutoWidth(true);
    line.setParameterExceptionHandler((wrong, given) -> refused(err, wrong));
    line.setExecutionExceptionHandler((thrown, command, parsed) -> failed(program, err, thrown));
    return line;
  }

  /** What works at the rig. */
  private static List<Asked> work(Desk desk) {
    return List.of(
        new WorkCommands.Demo(desk),
        new RunCommand(desk),
        new WorkCommands.OfPlan(desk),
        new WorkCommands.OfOne(desk),
        new HeadCommands.Read(desk),
        new HeadCommands.ByHand(desk),
        new PointsCommand(desk),
        new RigCommands.OfPlan(desk),
        new RigCommands.Interlocks(desk),
        new RigCommands.Rig(desk),
        new RigCommands.Measured(desk),
        new MatchCommand(desk),
        new NoteCommand(desk),
        new RereadCommand(desk),
        new SoakCommand(desk));
  }

  /** What reads, keeps and hands over the record. */
  private static List<Asked> records(Desk desk) {
    return List.of(
        new HistoryCommand(desk),
        new ExplainCommand(desk),
        new DayCommand(desk),
        new ProveCommand(desk),
        new BackupCommand(desk),
        new RestoreCommand(desk),
        new SetAsideCommand(desk),
        new ExportCommand(desk),
        new ImportCommand(desk),
        new CertificateCommands.OfThing(desk),
        new CertificateCommands.OfLabels(desk),
        new CorrectCommands.Correct(desk),
        new CorrectCommands.Scrap(desk));
  }

  private static CommandLine gauge(Desk desk) {
    CommandLine gauge = new CommandLine(new GaugeCommands.OfGauge(desk));
    List.of(
            new GaugeCheckCommands.Check(desk),
            new GaugeCheckCommands.Chart(desk),
            new StudyCommand(desk),
            new CalibrateCommand(desk),
            new GaugeRigCommands.Budget(desk),
            new RiskCommand(desk),
            new GaugeRigCommands.OfTyped(desk),
            new RelationCommand(desk))
        .forEach(gauge::addSubcommand);
    return gauge;
  }

  private static CommandLine order(Desk desk) {
    CommandLine order = new CommandLine(new OrderCommands.OfOrders(desk));
    List.of(new OrderCommands.In(desk), new OrderCommands.Out(desk), new OrderCommands.Show(desk))
        .forEach(order::addSubcommand);
    return order;
  }

  private static CommandLine voice(Desk desk) {
    CommandLine voice = new CommandLine(new VoiceCommands.OfVoice(desk));
    List.of(
            new StringsCommand(desk),
            new SustainCommand(desk),
            new InsteadCommand(desk),
            new CoilVoiceCommand(desk),
            new SizesCommand(desk),
            new VoicePlanCommand(desk),
            new ReachedCommand(desk),
            new NotesCommands.Made(desk),
            new NotesCommands.Notes(desk))
        .forEach(voice::addSubcommand);
    return voice;
  }

  private static CommandLine lot(Desk desk) {
    CommandLine lot = new CommandLine(new StockCommands.OfLots(desk));
    List.of(new StockCommands.In(desk), new LotSampleCommand(desk), new StockCommands.Show(desk))
        .forEach(lot::addSubcommand);
    return lot;
  }

  private static CommandLine pickup(Desk desk) {
    CommandLine pickup = new CommandLine(new PickupCommands.OfPickups(desk));
    List.of(
            new PickupCommands.Build(desk),
            new PoleReadCommand(desk),
            new ReturnCommand(desk),
            new PickupCommands.Show(desk))
        .forEach(pickup::addSubcommand);
    return pickup;
  }

  private static CommandLine magnet(Desk desk) {
    CommandLine magnet = new CommandLine(new MagnetCommands.OfMagnets(desk));
    List.of(
            new AlloyCommand(desk),
            new MagnetCommands.OfCharging(desk),
            new MagnetCommands.OfCurve(desk),
            new LevelCommands.OfLevels(desk),
            new MagnetInsteadCommand(desk),
            new CoilCommand(desk),
            new GapCommand(desk),
            new JawsCommand(desk))
        .forEach(magnet::addSubcommand);
    return magnet;
  }

  private static void describe(CommandSpec spec) {
    spec.usageMessage()
        .description(
            "Charges small magnets and knocks them down to an asked level, hands-free, with a"
                + " record of every pulse.")
        .footer(
            "",
            "Try it with no hardware:  lodestep demo",
            "One magnet:               lodestep dial --help",
            "Exit codes: 0 done, 1 not accepted, 2 bad input, 3 tripped.");
  }

  private static long wholeNumber(String text) {
    try {
      return Long.parseLong(text);
    } catch (NumberFormatException notWhole) {
      throw new CommandLine.TypeConversionException("'" + text + "' is no whole number");
    }
  }

  private static int refused(PrintWriter err, CommandLine.ParameterException wrong) {
    CommandSpec at = wrong.getCommandLine().getCommandSpec();
    if (wrong instanceof CommandLine.UnmatchedArgumentException unmatched) {
      unknown(at, unmatched.getUnmatched().get(0)).forEach(err::println);
    } else if (wrong.getArgSpec() == null && wrong.getValue() != null) {
      // "help" of what is no command.
      unknown(at, wrong.getValue()).forEach(err::println);
    } else {
      err.println("lodestep: " + wrong.getMessage());
    }
    err.println("See: " + at.qualifiedName(" ") + " --help");
    err.flush();
    return Desk.BAD_INPUT;
  }

  /** What is not known, the nearest there is, and at the place of a command all there are. */
  private static List<String> unknown(CommandSpec at, String word) {
    if (word.startsWith("-")) {
      String option = word.split("=", 2)[0];
      String hint = Nearest.hint(option, at.optionsMap().keySet());
      return List.of("lodestep: " + at.qualifiedName(" ") + " has no option " + option + hint);
    }
    if (at.subcommands().isEmpty()) {
      return List.of("lodestep: '" + word + "' is one word too many for " + at.qualifiedName(" "));
    }
    Set<String> commands = at.subcommands().keySet();
    List<String> lines = new ArrayList<>();
    lines.add("lodestep: there is no command '" + word + "'" + Nearest.hint(word, commands));
    lines.addAll(Wrapped.lines("Commands: ", String.join(", ", commands), COLUMNS));
    return lines;
  }

  private static int failed(Program program, PrintWriter err, Exception thrown) {
    program.note(thrown);
    // A ledger that cannot be read on is no fault of the program; its sentence says what to do.
    if (thrown instanceof Refusal || thrown instanceof LedgerException) {
      err.println("lodestep: " + thrown.getMessage());
      err.flush();
      return Desk.BAD_INPUT;
    }
    err.println("lodestep: the program found a fault in itself; please report these lines");
    thrown.printStackTrace(err);
    err.flush();
    return Desk.OWN_FAULT;
  }

  @Override
  public String[] getVersion() {
    return new String[] {"lodestep " + program.version()};
  }

  /** Without a command: what there is. */
  @Override
  public void run() {
    if (spec == null) {
      throw new IllegalStateException("no command line yet");
    }
    spec.commandLine().usage(spec.commandLine().getOut());
  }
}
