package lodestep.interlock;

import java.util.ArrayList;
import java.util.List;
import lodestep.port.TripCause;

/**
 * Whether lines from the head come damaged too often. One damaged line is dropped and does no harm,
 * and the spark of a pulse may cost one or two; more in so short a time is a bad cable, or a second
 * program on the port that takes bytes away.
 *
 * <p>While the head has not been heard, damaged lines are only counted: a cable that is plugged in
 * says anything.
 *
 * @param counted damaged lines up to the last scan
 * @param atNs when the newest of them were seen, oldest first, at most {@link #LINES_MAX}
 */
record LineWatch(long counted, List<Long> atNs) {

  static final LineWatch POWER_ON = new LineWatch(0, List.of());

  /** As many within {@link #WITHIN_NS} are a fault of the line; starting value. */
  static final int LINES_MAX = 3;

  static final long WITHIN_NS = 1_000_000_000L;

  LineWatch {
    atNs = List.copyOf(atNs);
  }

  LineWatch step(Seen seen) {
    long badLines = seen.in().link().badLines();
    if (badLines == counted) {
      return this;
    }
    if (!seen.heard()) {
      return new LineWatch(badLines, List.of());
    }
    List<Long> newest = new ArrayList<>(atNs);
    for (long line = counted; line < badLines && line < counted + LINES_MAX; line++) {
      newest.add(seen.nowNs());
    }
    return new LineWatch(
        badLines, newest.subList(Math.max(0, newest.size() - LINES_MAX), newest.size()));
  }

  long causes(Seen seen) {
    boolean often = atNs.size() == LINES_MAX && seen.nowNs() - atNs.get(0) <= WITHIN_NS;
    return Causes.when(often, TripCause.HEAD_LINE_BAD);
  }
}
