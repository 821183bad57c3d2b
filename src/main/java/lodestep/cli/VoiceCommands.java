package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import lodestep.paper.BuildNotes;
import lodestep.voice.Told;
import lodestep.voice.Told.Passage;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;

/** What a level and a coil mean to the ear: reckoned, and custom marked as such. */
final class VoiceCommands {

  private VoiceCommands() {}

  /** The group itself, which only says what there is. */
  @Command(
      name = "voice",
      description = "What a level means to the strings, and where a coil rings; nothing is driven.",
      subcommands = HelpCommand.class)
  static final class OfVoice extends Group {
    OfVoice(Desk desk) {
      super(desk);
    }
  }

  /** An answer as it is printed. */
  static List<String> lines(Told told) {
    List<String> lines = new ArrayList<>();
    for (Passage passage : told.passages()) {
      boolean headed =
          !lines.isEmpty()
              && told.passages().get(0) instanceof Passage.Heading
              && lines.size() == 1;
      if (!lines.isEmpty() && !headed) {
        lines.add("");
      }
      lines.addAll(lines(passage));
    }
    return lines;
  }

  private static List<String> lines(Passage passage) {
    if (passage instanceof Passage.Rows rows) {
      List<String> lines = new ArrayList<>(rows.shown() ? List.of(rows.name()) : List.of());
      lines.addAll(table(rows).lines());
      return lines;
    }
    String text =
        passage instanceof Passage.Heading heading
            ? heading.text()
            : passage instanceof Passage.Sentence sentence
                ? sentence.text()
                : ((Passage.Custom) passage).text();
    return Wrapped.lines("", text, MagnetCommands.COLUMNS);
  }

  private static Table table(Passage.Rows rows) {
    return new Table(
        IntStream.range(0, rows.columns().size())
            .mapToObj(at -> new Table.Column(rows.columns().get(at), at >= rows.words()))
            .toList(),
        rows.rows());
  }

  /** Notes as people read them. */
  static List<String> lines(List<BuildNotes.Note> notes) {
    List<String> lines = new ArrayList<>();
    for (BuildNotes.Note note : notes) {
      lines.addAll(Wrapped.lines(note.event().day() + "  ", note.words(), MagnetCommands.COLUMNS));
    }
    return lines;
  }
}
