package lodestep.scan;

import java.util.Optional;
import lodestep.interlock.InterlockState;
import lodestep.interlock.Permission;
import lodestep.port.Job;
import lodestep.port.Outputs;
import lodestep.port.Trip;
import lodestep.port.View;

/**
 * What one scan came to, for everybody who watches. Any thread, immutable.
 *
 * @param view what the scan had read; its {@code driven} are the levels of the scan before
 * @param driven the levels driven in this scan
 * @param readBack the levels that the lines then read back
 * @param interlocks what every interlock says, the conditions of the permission, and the trip
 * @param job the job in the state that the next scan steps; the failed one after a failure
 * @param failure what the program found wrong in itself; nothing is energised any more
 */
public record Snapshot(
    View view,
    Outputs driven,
    Outputs readBack,
    Permission permission,
    InterlockState interlocks,
    Job job,
    CycleTimes times,
    Optional<Throwable> failure) {

  /** Monotonic time of the scan, in nanoseconds. */
  public long nowNs() {
    return view.nowNs();
  }

  /** The trip that stands, while there is one. */
  public Optional<Trip> trip() {
    return interlocks.trip();
  }
}
