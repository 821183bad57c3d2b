package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.paper.BuildNotes;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import lodestep.voice.NoteAsked;
import lodestep.voice.NotesIn;
import lodestep.voice.PickupWords;
import lodestep.voice.Said;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Notes of what was made, on record. */
final class NotesCommands {

  private NotesCommands() {}

  @Command(
      name = "made",
      description = "Notes on record what was made, and who liked it.",
      footer = {
        "",
        "Levels are written the lowest string first, below zero where south looks at",
        "the strings; --poles-up in the order in which the strings are written. The",
        "nearest notes are shown while a level is chosen. What is said of poles, strings",
        "and coil is kept with the note, so that --like NAME takes it from there in the",
        "other commands of this group.",
        "",
        "Example: lodestep voice made \"Plover 12\" --position neck --day 2026-05-01",
        "             --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\"",
        "             --levels \"380 G; 380 G; 395 G; 395 G\"",
        "             --tolerance \"9 G\" --set split --liked-by \"R. Hollis\""
      })
  static final class Made extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "NAME", description = "of what was made")
    private String name = "";

    @Mixin private RecordOf record = new RecordOf();

    @Option(
        names = "--day",
        paramLabel = "DAY",
        required = true,
        description = "of the making: 2026-05-01")
    private String day = "";

    @Option(names = "--position", paramLabel = "WORDS", description = "neck, bridge …")
    private String position = "";

    @Mixin private MagnetOptions magnet = new MagnetOptions();
    @Mixin private StringOptions strings = new StringOptions();
    @Mixin private CoilOptions coil = new CoilOptions();
    @Mixin private ChoiceOptions choice = new ChoiceOptions();

    @Option(
        names = "--stand-off",
        paramLabel = "DISTANCE",
        description =
            "from the pole face to the gauge, at which the levels are read; that of the rig's"
                + " nest if left out")
    private @Nullable String standOff;

    @Option(names = "--set", paramLabel = "SET", description = "as which it was dialed")
    private @Nullable String set;

    @Option(names = "--pickup", paramLabel = "PICKUP", description = "on record, by its name")
    private @Nullable String pickup;

    @Option(names = "--certificate", paramLabel = "NUMBER", description = "that was made out")
    private @Nullable Long certificate;

    @Option(names = "--liked-by", paramLabel = "WORDS", description = "who liked it")
    private String liked = "";

    @Option(names = "--said", paramLabel = "WORDS", description = "what else there is to say")
    private String words = "";

    Made(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      PickupWords off =
          new PickupWords(Map.of(Said.STAND_OFF, Optional.ofNullable(standOff).orElse("")));
      PickupWords here = magnet.words().or(strings.words()).or(coil.words()).or(off);
      Optional<BuildNotes.Note> past = DescribedPickup.note(desk, record, magnet.like());
      PickupWords whole = past.map(note -> here.or(PickupWords.of(note))).orElse(here);
      long paper = certificate == null ? 0 : certificate;
      String of = Optional.ofNullable(set).orElse("");
      String built = Optional.ofNullable(pickup).orElse("");
      NoteAsked.Linked linked =
          of.isBlank() && built.isBlank() && paper == 0
              ? NoteAsked.Linked.NOTHING
              : record.read(desk, things -> NoteAsked.Linked.of(things, "--", of, built, paper));
      NoteAsked.Written written =
          new NoteAsked.Written(
              day, name, position, choice.levels(past), choice.tolerance(past), liked, words);
      NoteAsked.Made made =
          GaugeCommands.understood(
              () ->
                  NoteAsked.made(
                      DescribedPickup.asked(desk, record),
                      whole,
                      written,
                      linked,
                      NoteAsked.Judged.here(desk.program().papers().latestDay())));
      ChainEnd end = keep(desk, record, made.events());
      desk.print(List.of(made.note().name() + " is noted, entry " + end.number() + "."));
      return Desk.DONE;
    }
  }

  static ChainEnd keep(Desk desk, RecordOf record, List<LedgerEvent> events) {
    return desk.program()
        .papers()
        .keep(record.rig(desk), record.ledger(desk), events, "an entry by a person");
  }

  @Command(
      name = "notes",
      description = "Shows the notes of what was made, or takes them out and in as a file.",
      footer = {
        "",
        "The file is CSV (RFC 4180) with the headings",
        "  day, name, position, alloy, shape, size, levels, tolerance, inductance,",
        "  set, pickup, certificate, liked by, said, and those of poles, strings and",
        "  coil as the options of \"made\" have them; day, name, alloy, shape, size and",
        "  levels are needed.",
        "Each quantity has its unit, levels have semicolons between. Notes that are on",
        "record already are left out, so that a file may be read twice; what was edited",
        "is a new note. A file is taken whole or not at all. A set, pickup or",
        "certificate that is not on this record is named in what the note says, and not",
        "linked.",
        "",
        "Examples: lodestep voice notes",
        "          lodestep voice notes --to notes.csv",
        "          lodestep voice notes --from notes.csv"
      })
  static final class Notes extends Asked {

    private final Desk desk;
    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--to", paramLabel = "FILE", description = "writes them as CSV")
    private @Nullable Path to;

    @Option(names = "--from", paramLabel = "FILE", description = "puts those of a file on record")
    private @Nullable Path from;

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    Notes(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      if (to != null && from != null) {
        throw new Refusal("--to or --from, one of the two");
      }
      if (from != null) {
        return taken(from);
      }
      List<BuildNotes.Note> notes = DescribedPickup.notes(desk, record).notes();
      if (to != null) {
        desk.program().write(NotesCsv.of(notes), to);
        desk.print(List.of(PickupCommands.count(notes.size(), "note") + " in " + to + "."));
      } else if (json) {
        ArrayNode all = Json.array();
        notes.forEach(note -> all.add(document(note)));
        desk.print(all);
      } else {
        desk.print(
            notes.isEmpty()
                ? List.of("Nothing is noted yet: lodestep voice made --help")
                : VoiceCommands.lines(notes));
      }
      return Desk.DONE;
    }

    private static ObjectNode document(BuildNotes.Note note) {
      ObjectNode node = Json.object();
      node.put("entry", note.number());
      node.setAll((ObjectNode) Json.ofRecord(note.event()));
      note.described().ifPresent(how -> node.set("described", Json.ofRecord(how)));
      return node;
    }

    private int taken(Path file) {
      String text = desk.program().gauge().textOf(file);
      List<NoteAsked.Made> read =
          NotesCsv.read(text, record.rig(desk), desk.program().papers().latestDay());
      NotesIn in = in(read);
      if (!in.events().isEmpty()) {
        keep(desk, record, in.events());
      }
      List<String> said = in.sentences();
      List<String> lines = new ArrayList<>(List.of(said.get(0) + " from " + file + "."));
      said.stream()
          .skip(1)
          .forEach(each -> lines.addAll(Wrapped.lines("", each + ".", MagnetCommands.COLUMNS)));
      desk.print(lines);
      return Desk.DONE;
    }

    private NotesIn in(List<NoteAsked.Made> read) {
      BuildNotes known = DescribedPickup.notes(desk, record);
      return desk.program().isLedger(record.ledger(desk))
          ? record.read(desk, things -> NotesIn.of(read, known, Optional.of(things)))
          : NotesIn.of(read, known, Optional.empty());
    }
  }
}
