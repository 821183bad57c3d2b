package lodestep.bench;

import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CoderResult;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import lodestep.dial.Task;
import lodestep.ledger.Chain;
import lodestep.port.Bytes;

/**
 * Reads the plan of a batch. Any thread; reads no file.
 *
 * <p>A plan is CSV after RFC 4180 in UTF-8. Its first row holds the headings, in any order:
 *
 * <ul>
 *   <li>{@code name}: name or serial; several magnets of a row get {@code .1}, {@code .2} …
 *   <li>{@code set}: the set they belong to; may be empty
 *   <li>{@code spread}: how far the magnets of the set may differ from one another, as parts of
 *       their targets, {@code 1.5 %}: the rule by which it is matched; said in one row of the set
 *       or in each; empty for no rule
 *   <li>{@code alloy}: for example {@code alnico 5}
 *   <li>{@code shape}: {@code rod}, {@code ring} (charged along its axis), {@code bar} (charged
 *       through its width), {@code bar through thickness} or {@code bar along length}
 *   <li>{@code size}: {@code 4.9 x 16.5 mm}, diameter and length; {@code 17.5 x 7.2 x 9.4 mm},
 *       outside and inside diameter and length; {@code 58 x 11.5 x 3.4 mm}
 *   <li>{@code nest}: may be empty when only one of the rig's fits the shape
 *   <li>{@code pole up}: {@code north} or {@code south}, the face that looks at the strings
 *   <li>{@code target}: {@code 640 G}, {@code 64 mT}, {@code down 30 G}, {@code down 15 %}, {@code
 *       demagnetise} or {@code full charge}
 *   <li>{@code tolerance}: half width of the band, {@code 9 G} or {@code 1.5 %}; when demagnetising
 *       the largest reading that counts as uncharged, {@link Task.Demagnetise#UNCHARGED} if empty;
 *       of a full charge empty
 *   <li>{@code told by}: the hand gauge by which target and tolerance are told, whose relation to
 *       the nest must be on record; the nest itself if empty
 *   <li>{@code count}: how many, 1 if empty
 *   <li>{@code lot}: the supplier's lot, for the record; may be empty
 *   <li>{@code read at}: where it is read by hand beside, {@code 1/6; middle; 5/6; both faces}, see
 *       {@link PointsAsked#read}; empty for the nest's place alone
 *   <li>{@code counts}: which of these figures counts, {@code middle} if empty
 *   <li>{@code winding}: of a magnet in a finished pickup, {@code 5200 turns; open}, see {@link
 *       WoundPickup#read}; empty for a magnet by itself
 * </ul>
 *
 * Lines that begin with {@code #} are remarks. Everything wrong is told at once, and of a plan with
 * an error no part is used.
 */
public final class PlanReader {

  /** A plan is typed by a person; a larger file is some other file. */
  public static final int BYTES_MAX = 1_000_000;

  private final PlanRules rules;

  /** A reader for plans to be run under these rules. */
  public PlanReader(PlanRules rules) {
    this.rules = rules;
  }

  /**
   * The plan in these bytes.
   *
   * @param name what the batch is called, for example the file's name
   */
  public PlanReading read(String name, byte[] utf8) {
    if (utf8.length > BYTES_MAX) {
      return refused(
          name,
          PlanError.ofRow(
              1,
              String.format(
                  Locale.ROOT,
                  "more than %,d bytes is no plan; give the CSV file of a batch",
                  BYTES_MAX)));
    }
    CharBuffer text = CharBuffer.allocate(utf8.length);
    ByteBuffer bytes = ByteBuffer.wrap(utf8);
    CoderResult end = StandardCharsets.UTF_8.newDecoder().decode(bytes, text, true);
    text.flip();
    return end.isError()
        ? refused(name, PlanError.ofRow(1 + lineFeeds(text), NOT_UTF_8))
        : understood(name, text.toString(), sha256(utf8));
  }

  /** The plan in this text, for example one kept in the ledger; its bytes are those of UTF-8. */
  public PlanReading read(String name, String text) {
    return read(name, text.getBytes(StandardCharsets.UTF_8));
  }

  private static final String NOT_UTF_8 =
      "a character here is not UTF-8; save the sheet as CSV in UTF-8";

  private static int lineFeeds(CharSequence text) {
    return Math.toIntExact(text.chars().filter(c -> c == '\n').count());
  }

  private PlanReading understood(String name, String text, String sha256) {
    PlanSheet sheet = PlanSheet.of(text);
    List<PlanError> errors = new ArrayList<>();
    sheet.broken().ifPresent(errors::add);
    if (sheet.rows().isEmpty()) {
      errors.add(PlanError.ofRow(1, "there is no heading and no magnet in it"));
      return refused(name, errors);
    }
    PlanHeading heading = PlanHeading.of(sheet.rows().get(0));
    errors.addAll(heading.errors());
    errors.addAll(PlanSheet.filledRemarks(text, heading.width()));
    List<PlanSheet.Row> body = sheet.rows().subList(1, sheet.rows().size());
    if (body.isEmpty() && sheet.broken().isEmpty()) {
      errors.add(PlanError.ofRow(sheet.rows().get(0).line(), "no magnet follows the headings"));
    }
    List<PlanRow> rows = heading.places().isEmpty() ? List.of() : rows(heading, body, errors);
    return errors.isEmpty() ? new Plan(name, text, sha256, rows) : refused(name, errors);
  }

  private List<PlanRow> rows(
      PlanHeading heading, List<PlanSheet.Row> body, List<PlanError> errors) {
    RowReader reader = new RowReader(rules, new NamesTaken());
    List<PlanRow> rows = new ArrayList<>();
    for (PlanSheet.Row row : body) {
      if (Cell.widthOf(row.cells()) > heading.width() || row.cells().size() < heading.width()) {
        errors.add(PlanError.ofRow(row.line(), wrongWidth(row, heading)));
        continue;
      }
      RowCells cells = new RowCells(heading, row);
      reader.read(cells).ifPresent(rows::add);
      errors.addAll(cells.errors());
    }
    return rows;
  }

  private static String wrongWidth(PlanSheet.Row row, PlanHeading heading) {
    return String.format(
        Locale.ROOT,
        "the row has %d cells and the heading %d; a comma inside a cell needs quote marks around"
            + " the cell, and an empty cell its comma",
        row.cells().size(),
        heading.width());
  }

  private static PlanReading refused(String name, PlanError error) {
    return refused(name, List.of(error));
  }

  private static PlanReading refused(String name, List<PlanError> errors) {
    return new PlanReading.Refused(
        name,
        errors.stream()
            .sorted(Comparator.comparingInt(PlanError::line).thenComparing(PlanError::column))
            .toList());
  }

  /** Lower-case hexadecimal SHA-256 (FIPS 180-4) of these bytes. */
  static String sha256(byte[] bytes) {
    return Chain.sha256(Bytes.copyOf(bytes)).toString();
  }
}
