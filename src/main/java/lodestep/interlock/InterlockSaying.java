package lodestep.interlock;

import lodestep.port.TripCause;

/**
 * What one interlock says at a moment. Any thread, immutable.
 *
 * @param present whether its cause is there now
 * @param latched whether it is the cause of the trip that stands
 */
public record InterlockSaying(TripCause cause, boolean present, boolean latched) {}
