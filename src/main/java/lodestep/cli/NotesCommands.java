package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Lots;
import lodestep.config.RigConfig;
import lodestep.ledger.EventCodec;
import lodestep.paper.BuildNotes;
import lodestep.paper.Things;
import lodestep.port.LedgerArchive;
import lodestep.port.StockEvent.BuildNoted;
import lodestep.port.StockEvent.CertificateIssued;
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
        "Levels in the order of the strings, the lowest first; below zero where south",
        "looks at them. The nearest notes are shown while a level is chosen.",
        "",
        "Example: lodestep voice made \"Plover 12\" --position neck --day 2026-05-01",
        "             --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\" --levels \"380 G; 395 G\"",
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

    @Option(names = "--alloy", paramLabel = "ALLOY", required = true, description = "as in plans")
    private String alloy = "";

    @Option(
        names = "--shape",
        paramLabel = "SHAPE",
        defaultValue = "rod",
        description = "as in plans; rod if left out")
    private String shape = "";

    @Option(names = "--size", paramLabel = "SIZE", required = true, description = "as in plans")
    private String size = "";

    @Option(
        names = "--levels",
        paramLabel = "LEVELS",
        required = true,
        description = "of each position, with semicolons between")
    private String levels = "";

    @Option(names = "--tolerance", paramLabel = "TOLERANCE", description = "half width, \"9 G\"")
    private String tolerance = "";

    @Option(names = "--inductance", paramLabel = "INDUCTANCE", description = "of the coil")
    private String inductance = "";

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
      RigConfig rig = record.rig(desk);
      NotesCsv.Linked linked =
          set == null && pickup == null && certificate == null
              ? new NotesCsv.Linked("", 0, 0)
              : record.read(desk, this::linked);
      BuildNoted note =
          NotesCsv.made(
              "--",
              Lots.of(rig),
              new NotesCsv.Written(
                  day, name, position, alloy, shape, size, levels, tolerance, inductance),
              linked,
              liked,
              words);
      StockCommands.keep(desk, record, note, note.name() + " is noted");
      return Desk.DONE;
    }

    /** What it names must be there. */
    private NotesCsv.Linked linked(Things things) {
      String dialed = Optional.ofNullable(set).orElse("").strip();
      if (!dialed.isEmpty() && !(RecordOf.found(things, dialed) instanceof Things.Thing.OfSet)) {
        throw new Refusal("--set: '" + dialed + "' is no set on record");
      }
      long built =
          pickup == null
              ? 0
              : things
                  .pickup(pickup)
                  .orElseThrow(() -> new Refusal("--pickup: no '" + pickup + "' is on record"))
                  .number();
      if (certificate != null
          && things
              .entry(certificate)
              .filter(stored -> EventCodec.decode(stored).event() instanceof CertificateIssued)
              .isEmpty()) {
        throw new Refusal("--certificate: entry " + certificate + " is no certificate");
      }
      return new NotesCsv.Linked(dialed, built, certificate == null ? 0 : certificate);
    }
  }

  @Command(
      name = "notes",
      description = "Shows the notes of what was made, or takes them out and in as a file.",
      footer = {
        "",
        "The file is CSV (RFC 4180) with the headings",
        "  day, name, position, alloy, shape, size, levels, tolerance, inductance,",
        "  set, pickup, certificate, liked by, said",
        "Each quantity has its unit, levels have semicolons between. Notes that are on",
        "record already are left out, so that a file may be read twice.",
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
      List<BuildNotes.Note> notes = read().notes();
      if (to != null) {
        desk.program().write(NotesCsv.of(notes), to);
        desk.print(List.of(PickupCommands.count(notes.size(), "note") + " in " + to + "."));
      } else if (json) {
        ArrayNode all = Json.array();
        notes.forEach(note -> all.add(Json.ofRecord(note.event())));
        desk.print(all);
      } else {
        desk.print(
            notes.isEmpty()
                ? List.of("Nothing is noted yet: lodestep voice made --help")
                : NoteTable.of(notes));
      }
      return Desk.DONE;
    }

    private BuildNotes read() {
      Path file = record.ledger(desk);
      if (!desk.program().isLedger(file)) {
        return new BuildNotes(List.of());
      }
      try (LedgerArchive archive = desk.program().archive(file)) {
        return BuildNotes.of(archive);
      }
    }

    private int taken(Path file) {
      BuildNotes known = read();
      List<BuildNoted> fresh =
          NotesCsv.read(desk.program().gauge().textOf(file), Lots.of(record.rig(desk))).stream()
              .distinct()
              .filter(note -> !known.has(note))
              .toList();
      for (BuildNoted note : fresh) {
        StockCommands.keep(desk, record, note, note.name() + " is noted");
      }
      desk.print(List.of(PickupCommands.count(fresh.size(), "new note") + " from " + file + "."));
      return Desk.DONE;
    }
  }
}
