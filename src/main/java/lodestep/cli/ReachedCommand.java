package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import lodestep.paper.BuildNotes;
import lodestep.paper.Certificate;
import lodestep.paper.Papers;
import lodestep.voice.PickupWords;
import lodestep.voice.ReachedAnswer;
import lodestep.voice.Said;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** What a dialed set reached, and what that means to the strings. */
@Command(
    name = "reached",
    description = "What a dialed set or pickup reached, and what it means to the strings.",
    footer = {
      "",
      "The first magnet is under the lowest string. One bar is under all of them; say",
      "its pole pieces if it has any. Poles and strings that are not said are as the",
      "set's own note has them, else as is usual.",
      "",
      "Example: lodestep voice reached split --distance \"2.4 mm\""
    })
final class ReachedCommand extends Asked {

  private final Desk desk;

  @Parameters(paramLabel = "NAME", description = "a set, a pickup or a magnet on record")
  private String name = "";

  @Mixin private RecordOf record = new RecordOf();
  @Mixin private StringOptions strings = new StringOptions();

  @Option(
      names = "--like",
      paramLabel = "NAME",
      description = "a past build: poles and strings that are not said are as its notes have them")
  private @Nullable String like;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  ReachedCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    if (strings.words().says(Said.POLES_UP)) {
      throw new Refusal(
          "--poles-up: which poles of this set look at the strings is on record; leave it out");
    }
    Optional<BuildNotes.Note> own =
        like == null
            ? DescribedPickup.notes(desk, record).ofSet(name)
            : DescribedPickup.note(desk, record, like);
    PickupWords words =
        own.map(note -> strings.words().or(PickupWords.of(note))).orElse(strings.words());
    List<Certificate.Level> levels =
        record.read(desk, things -> things.levels(Papers.magnets(RecordOf.found(things, name))));
    ReachedAnswer answer =
        GaugeCommands.understood(
            () -> ReachedAnswer.of(DescribedPickup.asked(desk, record), words, name, levels));
    if (json) {
      desk.print(document(answer.rows()));
    } else {
      desk.print(VoiceCommands.lines(answer.told()));
      own.ifPresent(
          note ->
              desk.print(
                  List.of(
                      "",
                      "Poles and strings, where not said, as the note of "
                          + note.event().name()
                          + " has them.")));
    }
    return Desk.DONE;
  }

  private static ObjectNode document(List<ReachedAnswer.Row> rows) {
    ObjectNode node = Json.object();
    ArrayNode all = node.putArray("strings");
    for (ReachedAnswer.Row row : rows) {
      ObjectNode each = all.addObject();
      each.put("note", row.note());
      each.put("magnet", row.named().name());
      each.put("targetTesla", Math.abs(row.named().targetMicroTesla()) * 1e-6);
      each.put("levelTesla", row.level().tesla());
      StringsCommand.put(each, row.pull());
      each.put("signalDecibels", row.decibels());
    }
    return node;
  }
}
