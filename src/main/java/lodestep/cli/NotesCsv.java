package lodestep.cli;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import lodestep.bench.MagnetAsked;
import lodestep.magnet.AlloyBook;
import lodestep.paper.BuildNotes;
import lodestep.paper.Entered;
import lodestep.port.StockEvent.BuildNoted;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Inductance;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;

/**
 * Build notes as CSV after RFC 4180, out and in: a row a note, each quantity with its unit, several
 * levels with semicolons between. Any program for tables reads and writes it.
 */
final class NotesCsv {

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

  private static final int ROWS_MAX = 10_000;
  private static final int LEVELS_MAX = 24;

  private NotesCsv() {}

  static String of(List<BuildNotes.Note> notes) {
    StringWriter text = new StringWriter();
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord(HEADING);
      for (BuildNotes.Note note : notes) {
        printer.printRecord(row(note.event()));
      }
    } catch (IOException impossible) {
      throw new UncheckedIOException("text in memory cannot be written", impossible);
    }
    return text.toString();
  }

  private static List<String> row(BuildNoted event) {
    return List.of(
        event.day(),
        event.name(),
        event.position(),
        event.alloy(),
        event.shape(),
        event.size(),
        event.levelsMicroTesla().stream().map(NotesCsv::gauss).collect(Collectors.joining("; ")),
        event.toleranceMicroTesla() == 0 ? "" : gauss(event.toleranceMicroTesla()),
        event.inductanceMicroHenries() == 0
            ? ""
            : MagnetCommands.said("%.6f H", event.inductanceMicroHenries() * 1e-6),
        event.set(),
        number(event.pickup()),
        number(event.certificate()),
        event.liked(),
        event.said());
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
  static List<BuildNoted> read(String text, AlloyBook book) {
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
    List<BuildNoted> notes = new ArrayList<>();
    try (CSVParser parser = CSVParser.parse(plain, format)) {
      for (String heading : List.of("day", "name", "alloy", "shape", "size", "levels")) {
        if (!parser.getHeaderMap().containsKey(heading)) {
          throw new Refusal("the file has no column '" + heading + "'; it needs it");
        }
      }
      for (CSVRecord record : parser) {
        notes.add(note(record, book));
        if (notes.size() > ROWS_MAX) {
          throw new Refusal("the file has more than " + ROWS_MAX + " notes");
        }
      }
    } catch (IOException | UncheckedIOException | IllegalArgumentException broken) {
      throw new Refusal("the file is no CSV that can be read: " + broken.getMessage());
    }
    return notes;
  }

  private static BuildNoted note(CSVRecord record, AlloyBook book) {
    String where = "row " + (record.getRecordNumber() + 1) + ", ";
    return made(
        where,
        book,
        new Written(
            cell(record, "day"),
            cell(record, "name"),
            cell(record, "position"),
            cell(record, "alloy"),
            cell(record, "shape"),
            cell(record, "size"),
            cell(record, "levels"),
            cell(record, "tolerance"),
            cell(record, "inductance")),
        new Linked(
            cell(record, "set"),
            entry(where, "pickup", cell(record, "pickup")),
            entry(where, "certificate", cell(record, "certificate"))),
        cell(record, "liked by"),
        cell(record, "said"));
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

  /** What a note says of what was made, as a person writes it. */
  record Written(
      String day,
      String name,
      String position,
      String alloy,
      String shape,
      String size,
      String levels,
      String tolerance,
      String inductance) {}

  /** What on record it belongs to. */
  record Linked(String set, long pickup, long certificate) {}

  /**
   * The note, if all of it can be read.
   *
   * @param where for refusals, before the word of the column or option
   */
  static BuildNoted made(
      String where, AlloyBook book, Written written, Linked linked, String liked, String said) {
    if (written.name().isBlank()) {
      throw new Refusal(where + "name: what was made has a name");
    }
    String day = day(where, written.day());
    said(where + "alloy", () -> MagnetAsked.alloy(book, written.alloy()));
    said(where + "size", () -> MagnetAsked.shape(written.shape(), written.size()));
    return new BuildNoted(
        day,
        line(where, "name", written.name()),
        line(where, "position", written.position()),
        written.alloy().strip(),
        written.shape().strip(),
        written.size().strip(),
        levels(where, written.levels()),
        tolerance(where, written.tolerance()),
        written.inductance().isBlank()
            ? 0
            : Math.round(
                1e6
                    * said(where + "inductance", () -> Inductance.parse(written.inductance()))
                        .henries()),
        line(where, "set", linked.set()),
        linked.pickup(),
        linked.certificate(),
        line(where, "liked by", liked),
        line(where, "said", said));
  }

  private static String day(String where, String day) {
    try {
      return LocalDate.parse(day.strip()).toString();
    } catch (DateTimeParseException wrong) {
      throw new Refusal(where + "day: a day is written like 2026-05-01, not '" + day + "'");
    }
  }

  private static long tolerance(String where, String text) {
    if (text.isBlank()) {
      return 0;
    }
    long half = said(where + "tolerance", () -> FluxDensity.parse(text)).microTesla();
    if (half <= 0) {
      throw new Refusal(where + "tolerance: a half width above zero, not " + text);
    }
    return half;
  }

  private static List<Long> levels(String where, String text) {
    List<Long> levels =
        Arrays.stream(text.split(";", -1))
            .map(each -> said(where + "levels", () -> FluxDensity.parse(each)).microTesla())
            .toList();
    if (levels.size() > LEVELS_MAX) {
      throw new Refusal(where + "levels: more than " + LEVELS_MAX);
    }
    return levels;
  }

  private static String line(String where, String field, String words) {
    return GaugeCommands.understood(() -> new Entered(where).line(field, words));
  }

  private static <Q> Q said(String what, Supplier<Q> read) {
    return KindOptions.said(what, read);
  }
}
