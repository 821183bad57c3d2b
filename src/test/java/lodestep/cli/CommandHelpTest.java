package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import java.io.PrintWriter;
import java.io.Writer;
import java.lang.reflect.AnnotatedElement;
import java.lang.reflect.Proxy;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/**
 * Goal: help reads well on a terminal of 80 columns. Method: what each command says of itself,
 * before the library lays it out.
 */
class CommandHelpTest {

  /** The library breaks a line that fills the last column. */
  private static final int COLUMNS = 79;

  /** Commands with a class of their own. */
  private static final List<Class<?>> ALONE =
      List.of(
          SoakCommand.class,
          MagnetInsteadCommand.class,
          LotSampleCommand.class,
          MatchCommand.class,
          CalibrateCommand.class,
          RiskCommand.class,
          RelationCommand.class,
          StudyCommand.class,
          PointsCommand.class,
          DayCommand.class,
          ProveCommand.class,
          BackupCommand.class,
          RestoreCommand.class,
          SetAsideCommand.class,
          ExportCommand.class,
          ImportCommand.class,
          HistoryCommand.class,
          PoleReadCommand.class,
          ReturnCommand.class,
          StringsCommand.class,
          SustainCommand.class,
          InsteadCommand.class,
          SizesCommand.class,
          CoilVoiceCommand.class,
          VoicePlanCommand.class,
          ReachedCommand.class,
          NoteCommand.class,
          RereadCommand.class,
          ExplainCommand.class);

  static List<Command> commands() {
    Stream<Class<?>> nested =
        Stream.of(
                WorkCommands.class,
                HeadCommands.class,
                RigCommands.class,
                RecordCommands.class,
                GaugeCommands.class,
                GaugeCheckCommands.class,
                GaugeRigCommands.class,
                CertificateCommands.class,
                PickupCommands.class,
                StockCommands.class,
                OrderCommands.class,
                VoiceCommands.class,
                NotesCommands.class,
                CorrectCommands.class)
            .flatMap(holder -> Arrays.stream(holder.getDeclaredClasses()));
    List<Command> commands =
        Stream.concat(nested, ALONE.stream())
            .map(type -> type.getAnnotation(Command.class))
            .filter(command -> command != null)
            .toList();
    assertThat(commands)
        .extracting(Command::name)
        .contains("demo", "read", "history", "rig", "soak")
        .contains("day", "prove", "backup", "restore", "set-aside", "export", "import")
        .contains("gauge", "check", "chart", "study", "budget", "relation", "match")
        .contains("certificate", "labels", "build", "return", "lot", "correct", "scrap");
    return commands;
  }

  /** Every command with all that is below it. */
  static Stream<CommandSpec> specs() {
    Program none =
        (Program)
            Proxy.newProxyInstance(
                Program.class.getClassLoader(),
                new Class<?>[] {Program.class},
                (proxy, method, arguments) -> {
                  throw new IllegalStateException("help asks nothing of the program: " + method);
                });
    PrintWriter nowhere = new PrintWriter(Writer.nullWriter());
    return below(Commands.line(none, nowhere, nowhere).getCommandSpec());
  }

  private static Stream<CommandSpec> below(CommandSpec spec) {
    return Stream.concat(
        Stream.of(spec),
        spec.subcommands().values().stream()
            .map(CommandLine::getCommandSpec)
            .flatMap(CommandHelpTest::below));
  }

  /** As it stands in the source: the library hands out what it has filled in already. */
  private static List<String> written(ArgSpec arg) {
    AnnotatedElement field = (AnnotatedElement) arg.userObject();
    Option option = field.getAnnotation(Option.class);
    Parameters parameters = field.getAnnotation(Parameters.class);
    return option != null
        ? List.of(option.description())
        : parameters != null ? List.of(parameters.description()) : List.of();
  }

  /** The library fills in such texts, and prints a warning above the help where it cannot. */
  @ParameterizedTest
  @MethodSource("specs")
  void helpOfNoCommandPrintsAWarning(CommandSpec spec) {
    List<String> lines = new ArrayList<>();
    for (String[] part :
        List.of(
            spec.usageMessage().header(),
            spec.usageMessage().description(),
            spec.usageMessage().footer())) {
      lines.addAll(List.of(part));
    }
    spec.args().forEach(arg -> lines.addAll(written(arg)));

    assertThat(lines)
        .allSatisfy(
            line ->
                assertThatCode(() -> String.format(line).length())
                    .as("a %% is doubled: " + line.replace("%", "%%"))
                    .doesNotThrowAnyException());
    assertThat(spec.commandLine().getUsageMessage()).doesNotContain("%%");
  }

  @ParameterizedTest
  @MethodSource("commands")
  void saysInOneWholeSentenceWhatItDoes(Command command) {
    assertThat(command.description()[0]).endsWith(".");
  }

  @ParameterizedTest
  @MethodSource("commands")
  void breaksItsLinesItself(Command command) {
    assertThat(Stream.of(command.description(), command.footer()).flatMap(Arrays::stream))
        .allSatisfy(line -> assertThat(line.length()).as(line).isLessThanOrEqualTo(COLUMNS));
  }
}
