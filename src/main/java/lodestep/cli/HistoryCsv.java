package lodestep.cli;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SortedMap;
import lodestep.ledger.ClockMarks.Mark;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.quantity.FluxDensity;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** Histories as CSV after RFC 4180, a row for everything that happened, units in the heading. */
public final class HistoryCsv {

  /** What speaks against the time that stands there; empty where nothing does. */
  private static final String TIME_DOUBT = "doubt of the time";

  private static final List<String> HEADING =
      List.of(
          "entry",
          "time (UTC)",
          "magnet",
          "name",
          "attempt",
          "what",
          "reading (G)",
          "U k=2 (G)",
          "setting",
          "peak",
          "how it went",
          TIME_DOUBT);

  private static final int WHAT = 2;
  private static final int SETTING = 3;
  private static final int PEAK = 4;
  private static final int HOW = 6;

  private HistoryCsv() {}

  /**
   * Those of some magnets, one after the other.
   *
   * @param clock how far the times can be believed, by the entries' numbers
   */
  public static String of(List<MagnetHistory> histories, SortedMap<Long, Mark> clock) {
    StringWriter text = new StringWriter();
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord(HEADING);
      for (MagnetHistory history : histories) {
        List<List<String>> rows = HistoryTable.rows(history);
        for (int at = 0; at < rows.size(); at++) {
          Happening happening = history.happenings().get(at);
          List<String> cells = row(history, happening, rows.get(at));
          cells.add(ClockWords.doubt(clock, happening.number()));
          printer.printRecord(cells);
        }
      }
    } catch (IOException impossible) {
      throw new UncheckedIOException("text in memory cannot be written", impossible);
    }
    return text.toString();
  }

  /** Other events: a row each, its fields in words. */
  static String ofEvents(List<LedgerEntry> entries, SortedMap<Long, Mark> clock) {
    StringWriter text = new StringWriter();
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord("entry", "time (UTC)", "what", "said", TIME_DOUBT);
      for (LedgerEntry entry : entries) {
        printer.printRecord(
            entry.number(),
            entry.wall(),
            EventWords.kind(entry.event()),
            EventWords.fields(entry.event()),
            ClockWords.doubt(clock, entry.number()));
      }
    } catch (IOException impossible) {
      throw new UncheckedIOException("text in memory cannot be written", impossible);
    }
    return text.toString();
  }

  private static List<String> row(MagnetHistory history, Happening happening, List<String> row) {
    List<String> cells = new ArrayList<>();
    cells.add(String.valueOf(happening.number()));
    cells.add(happening.wall().toString());
    cells.add(String.valueOf(history.magnet()));
    cells.add(history.identity().name());
    cells.add(String.valueOf(happening.attempt()));
    cells.add(row.get(WHAT));
    cells.add(read(happening).map(read -> figure(read[0])).orElse(""));
    cells.add(read(happening).map(read -> figure(read[1])).orElse(""));
    cells.add(row.get(SETTING));
    cells.add(row.get(PEAK));
    cells.add(row.get(HOW));
    return cells;
  }

  /** Level and expanded uncertainty in gauss of what was read. */
  private static Optional<double[]> read(Happening happening) {
    if (happening.what() instanceof What.Reading reading) {
      return Optional.of(
          gauss(reading.event().fieldMicroTesla(), reading.event().uncertaintyNanoTesla()));
    }
    if (happening.what() instanceof What.Verdict verdict
        && verdict.event().uncertaintyNanoTesla() > 0) {
      return Optional.of(
          gauss(verdict.event().fieldMicroTesla(), verdict.event().uncertaintyNanoTesla()));
    }
    return Optional.empty();
  }

  private static double[] gauss(long microTesla, long nanoTesla) {
    return new double[] {
      FluxDensity.ofMicroTesla(microTesla).gauss(), new FluxDensity(2e-9 * nanoTesla).gauss()
    };
  }

  private static String figure(double gauss) {
    return String.format(Locale.ROOT, "%.2f", gauss);
  }
}
