package lodestep.interlock;

import java.util.List;
import java.util.Optional;
import lodestep.port.Contacts;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;

/**
 * Everything the interlocks look at in one scan. Any thread, immutable.
 *
 * @param nowNs monotonic time of the scan, in nanoseconds
 * @param lateNs how much later than due this scan came, in nanoseconds, &ge; 0
 * @param contacts all contacts as the host reads them
 * @param frames all frames since the last scan, oldest first
 * @param status the newest status line of the head's present boot; empty until one has come
 * @param link how the link stands
 * @param driven the levels driven in the last scan; what the job claims is not asked
 * @param readBack the levels read back after driving them
 * @param ledger how far the record is durable, or why it is not
 * @param stopAsked whether a person asked for a stop since the last scan
 * @param programFailed whether the program has found an error in itself
 */
public record InterlockInputs(
    long nowNs,
    long lateNs,
    Contacts contacts,
    List<ReceivedFrame> frames,
    Optional<View.Status> status,
    LinkState link,
    Outputs driven,
    Outputs readBack,
    LedgerState ledger,
    boolean stopAsked,
    boolean programFailed) {}
