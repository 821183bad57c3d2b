package lodestep.soak;

import java.util.Collections;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import lodestep.port.Hash;

/**
 * What one run came to. Any thread, immutable.
 *
 * @param violation the first rule seen broken; the run ends with it
 * @param rigMs virtual time that was run, in milliseconds
 * @param strokes of the jig, on record as delivered
 * @param accepted magnets accepted
 * @param starts how often the program was started
 * @param permitGoneMs longest time from a program's death to the fall of the permit, of a relay and
 *     a head that are whole; 0 if none died
 * @param trips how often each cause tripped
 * @param coverage how often each kind of happening met each state
 * @param end hash over all canonical bytes of the record: two runs are alike exactly when it is
 */
public record RunResult(
    Optional<Violation> violation,
    long rigMs,
    long pulses,
    long strokes,
    long accepted,
    long starts,
    long permitGoneMs,
    SortedMap<String, Long> trips,
    Map<Cell, Long> coverage,
    Hash end) {

  /** A kind of happening that begins in a state of the host. */
  public record Cell(HappeningKind kind, RigState state) {}

  public RunResult {
    trips = Collections.unmodifiableSortedMap(new TreeMap<>(trips));
    coverage = Map.copyOf(coverage);
  }
}
