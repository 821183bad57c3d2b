package lodestep.port;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.protocol.HeadFrame;

/**
 * Everything the job may know in one scan. Any thread, immutable.
 *
 * @param nowNs monotonic time of the scan, in nanoseconds
 * @param wall what the wall clock said; a label only
 * @param contacts all contacts as the host reads them
 * @param frames all frames since the last scan, oldest first
 * @param status the newest status line of the head's present boot, with its time; empty until one
 *     has come
 * @param link how the link stands
 * @param driven the levels read back after the last scan
 * @param allowed what the interlocks allow in this scan
 * @param bankProven whether the interlocks hold fill contact, switch and bleed for proven, so that
 *     the bank may be filled above its low level; always where there is no bank
 * @param proof what was seen in the scan that completed the proof of the bank; else empty
 * @param trip the latched trip, while there is one
 * @param nextNumber the number the first event of this step will get
 * @param ledger how far the record is durable
 * @param commands what people asked since the last scan
 * @param plan the answer to the last question, in the scan in which it came
 */
public record View(
    long nowNs,
    Instant wall,
    Contacts contacts,
    List<ReceivedFrame> frames,
    Optional<Status> status,
    LinkState link,
    Outputs driven,
    Outputs allowed,
    boolean bankProven,
    Optional<LedgerEvent.BankProven> proof,
    Optional<Trip> trip,
    long nextNumber,
    LedgerState ledger,
    List<Command> commands,
    Optional<PlanAnswer> plan) {

  public View {
    frames = List.copyOf(frames);
    commands = List.copyOf(commands);
  }

  /** A scan that completed no proof of the bank. */
  public View(
      long nowNs,
      Instant wall,
      Contacts contacts,
      List<ReceivedFrame> frames,
      Optional<Status> status,
      LinkState link,
      Outputs driven,
      Outputs allowed,
      boolean bankProven,
      Optional<Trip> trip,
      long nextNumber,
      LedgerState ledger,
      List<Command> commands,
      Optional<PlanAnswer> plan) {
    this(
        nowNs,
        wall,
        contacts,
        frames,
        status,
        link,
        driven,
        allowed,
        bankProven,
        Optional.empty(),
        trip,
        nextNumber,
        ledger,
        commands,
        plan);
  }

  /**
   * The newest status line and when it came, in monotonic nanoseconds; a line that comes later than
   * the head's own clock says counts as one that came before, so that a backlog is never fresh.
   */
  public record Status(HeadFrame.Status frame, long receivedAtNs) {}
}
