package lodestep.cli;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import lodestep.config.RigConfig;
import lodestep.paper.BuildNotes;
import lodestep.port.StockEvent.BuildNoted;
import lodestep.voice.NoteAsked;
import lodestep.voice.PickupAsked;
import lodestep.voice.PickupWords;
import lodestep.voice.Said;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;

/**
 * Build notes as CSV after RFC 4180, out and in: a row a note, each quantity with its unit, several
 * levels with semicolons between. Any program for tables reads and writes it.
 */
public final class NotesCsv {

  static final List<String> HEADING =
      List.of(
          "day",
          "name",
          "position",
          "alloy",
          "shape",
          "size",
          "levels",
          "tolerance",
          "inductance",
          "set",
          "pickup",
          "certificate",
          "liked by",
          "said");

  /** The rest of what may be said of a pickup, by the words of the options. */
  private static final List<Said> DESCRIBED =
      List.of(
          Said.POLES,
          Said.ARRANGED,
          Said.KEEPER,
          Said.POLES_UP,
          Said.PITCH,
          Said.DISTANCE,
          Said.SCALE,
          Said.FROM_BRIDGE,
          Said.STRINGS,
          Said.TURNS,
          Said.WINDING,
          Said.CORES,
          Said.CORES_OF,
          Said.COUNT,
          Said.RESISTANCE,
          Said.CAPACITANCE,
          Said.LOAD,
          Said.STAND_OFF);

  private static final int ROWS_MAX = 10_000;

  private NotesCsv() {}

  /** These notes as a file has them. */
  public static String of(List<BuildNotes.Note> notes) {
    StringWriter text = new StringWriter();
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord(headings());
      for (BuildNotes.Note note : notes) {
        printer.printRecord(row(note));
      }
    } catch (IOException impossible) {
      throw new UncheckedIOException("text in memory cannot be written", impossible);
    }
    return text.toString();
  }

  private static List<String> headings() {
    List<String> headings = new ArrayList<>(HEADING);
    DESCRIBED.forEach(field -> headings.add(heading(field)));
    return headings;
  }

  private static String heading(Said field) {
    return field.word().replace('-', ' ');
  }

  private static List<String> row(BuildNotes.Note note) {
    BuildNoted event = note.event();
    List<String> row =
        new ArrayList<>(
            List.of(
                event.day(),
                event.name(),
                event.position(),
                event.alloy(),
                event.shape(),
                event.size(),
                event.levelsMicroTesla().stream()
                    .map(NotesCsv::gauss)
                    .collect(Collectors.joining("; ")),
                event.toleranceMicroTesla() == 0 ? "" : gauss(event.toleranceMicroTesla()),
                event.inductanceMicroHenries() == 0
                    ? ""
                    : MagnetCommands.said("%.6f H", event.inductanceMicroHenries() * 1e-6),
                event.set(),
                number(event.pickup()),
                number(event.certificate()),
                event.liked(),
                event.said()));
    PickupWords words = PickupWords.of(note);
    DESCRIBED.forEach(field -> row.add(words.says(field) ? words.get(field) : ""));
    return row;
  }

  /** To the microtesla, so that what is read back is what was written. */
  private static String gauss(long microTesla) {
    return MagnetCommands.said("%.2f G", microTesla / 100.0);
  }

  private static String number(long entry) {
    return entry == 0 ? "" : String.valueOf(entry);
  }

  /**
   * Reads such a file whole, or nothing of it.
   *
   * @throws Refusal naming row and column
   */
  public static List<NoteAsked.Made> read(String text, RigConfig rig, LocalDate latest) {
    CSVFormat format =
        CSVFormat.RFC4180
            .builder()
            .setHeader()
            .setSkipHeaderRecord(true)
            .setIgnoreHeaderCase(true)
            .setTrim(true)
            .setIgnoreEmptyLines(true)
            .get();
    // Programs for tables begin their UTF-8 with a mark.
    String plain = text.startsWith("\ufeff") ? text.substring(1) : text;
    List<NoteAsked.Made> notes = new ArrayList<>();
    NoteAsked.Judged judged = NoteAsked.Judged.elsewhere(latest);
    try (CSVParser parser = CSVParser.parse(plain, format)) {
      for (String heading : List.of("day", "name", "alloy", "shape", "size", "levels")) {
        if (!parser.getHeaderMap().containsKey(heading)) {
          throw new Refusal("the file has no column '" + heading + "'; it needs it");
        }
      }
      for (CSVRecord record : parser) {
        notes.add(note(record, rig, judged));
        if (notes.size() > ROWS_MAX) {
          throw new Refusal("the file has more than " + ROWS_MAX + " notes");
        }
      }
    } catch (IOException | UncheckedIOException | IllegalArgumentException broken) {
      throw new Refusal("the file is no CSV that can be read: " + broken.getMessage());
    }
    return notes;
  }

  private static NoteAsked.Made note(CSVRecord record, RigConfig rig, NoteAsked.Judged judged) {
    String where = "row " + (record.getRecordNumber() + 1) + ", ";
    return GaugeCommands.understood(
        () ->
            NoteAsked.made(
                new PickupAsked(rig, where),
                PickupWords.of(field -> cell(record, heading(field))),
                new NoteAsked.Written(
                    cell(record, "day"),
                    cell(record, "name"),
                    cell(record, "position"),
                    cell(record, "levels"),
                    cell(record, "tolerance"),
                    cell(record, "liked by"),
                    cell(record, "said")),
                new NoteAsked.Linked(
                    cell(record, "set"),
                    entry(where, "pickup", cell(record, "pickup")),
                    entry(where, "certificate", cell(record, "certificate"))),
                judged));
  }

  private static String cell(CSVRecord record, String heading) {
    return record.isMapped(heading) && record.isSet(heading) ? record.get(heading) : "";
  }

  private static long entry(String where, String column, String text) {
    if (text.isEmpty()) {
      return 0;
    }
    if (!text.matches("[1-9][0-9]{0,14}")) {
      throw new Refusal(where + column + ": the number of an entry, not '" + text + "'");
    }
    return Long.parseLong(text);
  }
}
