package lodestep.ledger;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.IsoFields;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Which backups stay: the newest of each of the newest {@code days} days that have one, and the
 * newest of each of the newest {@code weeks} weeks that have one. Days nobody made a backup count
 * for nothing, so a rig that stood still for a summer loses none. The one that reaches furthest
 * always stays, whatever the clock said. Any thread, immutable.
 *
 * @param days of Greenwich, at least 0; {@code weeks} by ISO 8601, from Monday, at least 0
 */
public record Retention(int days, int weeks) {

  private static final Pattern WORDS =
      Pattern.compile("\\s*(\\d{1,4})\\s*days?(?:\\s*,\\s*(\\d{1,4})\\s*weeks?)?\\s*");

  /**
   * @throws IllegalArgumentException if a count is negative, or both are 0
   */
  public Retention {
    if (days < 0 || weeks < 0 || days + weeks == 0) {
      throw new IllegalArgumentException("keep at least one day or one week");
    }
  }

  /**
   * Reads "7 days, 4 weeks" or "7 days".
   *
   * @throws IllegalArgumentException if it is anything else
   */
  public static Retention of(String words) {
    Matcher read = WORDS.matcher(words);
    if (!read.matches()) {
      throw new IllegalArgumentException("'" + words + "' is not like \"7 days, 4 weeks\"");
    }
    String weeks = read.group(2);
    return new Retention(
        Integer.parseInt(read.group(1)), weeks == null ? 0 : Integer.parseInt(weeks));
  }

  /**
   * Those that may go.
   *
   * @param all backups of one ledger, in any order
   * @param note what is known of one
   */
  public <B> List<B> spare(List<B> all, Function<B, Backup> note) {
    List<B> newestFirst = new ArrayList<>(all);
    newestFirst.sort(
        Comparator.comparing((B each) -> note.apply(each).made())
            .thenComparing(each -> note.apply(each).end().number())
            .reversed());
    Set<B> kept = new HashSet<>();
    firstOfEach(newestFirst, days, note, Retention::day, kept);
    firstOfEach(newestFirst, weeks, note, Retention::week, kept);
    newestFirst.stream()
        .max(Comparator.comparingLong(each -> note.apply(each).end().number()))
        .ifPresent(kept::add);
    return newestFirst.stream().filter(each -> !kept.contains(each)).toList();
  }

  private static <B> void firstOfEach(
      List<B> newestFirst,
      int count,
      Function<B, Backup> note,
      Function<Instant, Object> span,
      Set<B> kept) {
    Set<Object> seen = new HashSet<>();
    for (B each : newestFirst) {
      Object of = span.apply(note.apply(each).made());
      if (!seen.contains(of) && seen.size() < count) {
        seen.add(of);
        kept.add(each);
      }
    }
  }

  private static Object day(Instant made) {
    return made.atOffset(ZoneOffset.UTC).toLocalDate();
  }

  private static Object week(Instant made) {
    LocalDate date = made.atOffset(ZoneOffset.UTC).toLocalDate();
    return date.get(IsoFields.WEEK_BASED_YEAR) * 100 + date.get(IsoFields.WEEK_OF_WEEK_BASED_YEAR);
  }
}
