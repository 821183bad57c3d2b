package lodestep.port;

import lodestep.protocol.HeadFrame;

/**
 * A frame and when the host had it whole.
 *
 * @param receivedAtNs monotonic time, in nanoseconds
 */
public record ReceivedFrame(HeadFrame frame, long receivedAtNs) {}
