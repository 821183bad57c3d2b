package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import picocli.CommandLine.Command;

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
