package lodestep.cli;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedMap;
import lodestep.ledger.ClockMarks.Mark;

/** Wall times of a record, and which of them are doubtful. */
final class ClockWords {

  private static final DateTimeFormatter MINUTE =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT).withZone(ZoneOffset.UTC);

  private ClockWords() {}

  /** A wall time to the minute, at Greenwich, so that it reads the same on every machine. */
  static String minute(Instant wall) {
    return MINUTE.format(wall);
  }

  /**
   * A line for each stretch of entries whose times are doubtful for the same reason.
   *
   * @param marks of the entries that are shown, by their numbers
   */
  static List<String> lines(SortedMap<Long, Mark> marks) {
    List<String> lines = new ArrayList<>();
    Mark mark = Mark.SOUND;
    long from = 0;
    long to = 0;
    for (Map.Entry<Long, Mark> each : marks.entrySet()) {
      if (each.getValue() != mark) {
        add(lines, mark, from, to);
        mark = each.getValue();
        from = each.getKey();
      }
      to = each.getKey();
    }
    add(lines, mark, from, to);
    return lines;
  }

  /** What speaks against this entry's time; empty where nothing does. */
  static String doubt(SortedMap<Long, Mark> marks, long number) {
    return marks.getOrDefault(number, Mark.SOUND).words();
  }

  private static void add(List<String> lines, Mark mark, long from, long to) {
    if (mark != Mark.SOUND) {
      String entries = from == to ? "entry " + from : "entries " + from + " to " + to;
      lines.add("Time of " + entries + ": " + mark.words() + "; the order is that of the numbers.");
    }
  }
}
