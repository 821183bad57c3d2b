package lodestep.interlock;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;

/**
 * All that the interlocks remember from one scan to the next. Any thread, immutable; made by {@link
 * #powerOn()} and by {@link InterlockLogic#step} alone.
 */
public final class InterlockState {

  final DriveTimes drive;
  final Watches watches;
  final Latch latch;
  final long presentBits;
  private final PermissionRow row;

  InterlockState(
      DriveTimes drive, Watches watches, Latch latch, long presentBits, PermissionRow row) {
    this.drive = drive;
    this.watches = watches;
    this.latch = latch;
    this.presentBits = presentBits;
    this.row = row;
  }

  /** The state at the start of the program: nothing is known, nothing is allowed, no trip. */
  public static InterlockState powerOn() {
    return new InterlockState(
        DriveTimes.POWER_ON, Watches.POWER_ON, Latch.CLEAR, 0, PermissionRow.NOTHING_MET);
  }

  /**
   * The state at the start of a program whose last run ended tripped: a restart alone clears
   * nothing, so the trip still stands and wants the arm key.
   */
  public static InterlockState powerOn(Trip standing) {
    return new InterlockState(
        DriveTimes.POWER_ON, Watches.POWER_ON, Latch.of(standing), 0, PermissionRow.NOTHING_MET);
  }

  /** The state at the start of a program: with the trip that its last run left standing, if any. */
  public static InterlockState powerOn(Optional<Trip> standing) {
    return standing.map(InterlockState::powerOn).orElseGet(InterlockState::powerOn);
  }

  /** The trip that stands, while there is one. */
  public Optional<Trip> trip() {
    return latch.trip();
  }

  /** The head's hello, in the scan that brought the first one of a run. */
  public Optional<HeadFrame.Hello> met() {
    return watches.identity().met() ? watches.identity().hello() : Optional.empty();
  }

  /** What was seen when the bank was proven, in the scan that completed the proof. */
  public Optional<BankProof> bankProof() {
    return watches.proof().completed();
  }

  /** Whether the head has said who it is since its present run, or the link, began. */
  public boolean headHasSaidWho() {
    return watches.identity().said();
  }

  /** The conditions of the last scan's permission. */
  public PermissionRow row() {
    return row;
  }

  /** Whether the cause was there in the last scan, be it the one that is latched or not. */
  public boolean present(TripCause cause) {
    return Causes.has(presentBits, cause);
  }

  /** What every interlock says, in the order of {@link TripCause}. */
  public List<InterlockSaying> says() {
    List<InterlockSaying> says = new ArrayList<>();
    for (TripCause cause : TripCause.values()) {
      boolean latched = trip().isPresent() && trip().get().cause() == cause;
      says.add(new InterlockSaying(cause, present(cause), latched));
    }
    return List.copyOf(says);
  }
}
