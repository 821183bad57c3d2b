package lodestep.interlock;

import java.util.Optional;
import lodestep.port.Trip;

/**
 * What one scan of the interlocks comes to. Any thread, immutable.
 *
 * @param next the state for the next scan
 * @param permission what may be driven in this scan
 * @param tripped the trip of this very scan, if there is one
 * @param reset the trip that this very scan cleared, if it did
 */
public record InterlockStep(
    InterlockState next, Permission permission, Optional<Trip> tripped, Optional<Trip> reset) {}
