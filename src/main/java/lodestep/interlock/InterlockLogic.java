package lodestep.interlock;

import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;

/**
 * The interlocks: what may be driven now, and when to let go of everything. Pure and total. They
 * only ever say less than the job asks, and infer what is going on from what is driven and
 * measured, never from what the job claims. Any thread, immutable.
 */
public final class InterlockLogic {

  /** Fall and bounce of the feed relay, two lines and their way; starting value. */
  private static final long FEED_TOLD_NS = 50_000_000L;

  /** Fall of the feed relay, and the age that a line may have when it comes; starting value. */
  private static final long LINE_AFTER_NS = 30_000_000L;

  private final Figures figures;

  /** Interlocks for a rig of these figures. */
  public InterlockLogic(InterlockSettings settings) {
    this.figures = Figures.of(settings);
  }

  /**
   * One scan. A trip of this scan already counts in its permission, and so does a reset.
   *
   * @param state what the last scan left
   * @param in what this scan has read
   */
  public InterlockStep step(InterlockState state, InterlockInputs in) {
    DriveTimes drive = state.drive.step(in.driven(), in.nowNs());
    Seen seen = Seen.of(in, figures, drive, state.watches.head());
    Watches watches = state.watches.step(seen);
    long present = watches.causes(seen);
    boolean fresh = state.latch.trip().isEmpty() && present != 0;
    Latch latch =
        fresh
            ? Latch.of(trip(Causes.first(present), seen, watches))
            : state.latch.step(
                present != 0, seen.closed(InputLine.ARM_KEY), readInTime(seen), in.nowNs());
    // What has tripped is proven anew.
    Watches trusted = latch.trip().isEmpty() ? watches : watches.unproven();
    PermissionRow row = row(seen, trusted, latch.trip().isEmpty());
    InterlockState next = new InterlockState(drive, trusted, latch, present, row);
    return new InterlockStep(
        next,
        Permissive.of(row),
        fresh ? latch.trip() : Optional.empty(),
        latch.trip().isEmpty() ? state.latch.trip() : Optional.empty());
  }

  /**
   * Trips in the middle of a scan because the program has found an error in itself. The first cause
   * is kept when a trip stands already.
   *
   * @param state as this scan's {@link #step} left it
   * @param detail what went wrong, in words
   */
  public InterlockStep programError(InterlockState state, String detail, long nowNs) {
    boolean fresh = state.latch.trip().isEmpty();
    Latch latch = fresh ? Latch.of(new Trip(TripCause.PROGRAM_ERROR, detail, nowNs)) : state.latch;
    PermissionRow row = state.row().with(Condition.NO_TRIP, false);
    long present = state.presentBits | Causes.bit(TripCause.PROGRAM_ERROR);
    Watches unproven = state.watches.unproven();
    InterlockState next = new InterlockState(state.drive, unproven, latch, present, row);
    return new InterlockStep(
        next, Permissive.of(row), fresh ? latch.trip() : Optional.empty(), Optional.empty());
  }

  private static Trip trip(TripCause cause, Seen seen, Watches watches) {
    return new Trip(cause, Details.of(cause, seen, watches), seen.nowNs());
  }

  private static PermissionRow row(Seen seen, Watches watches, boolean noTrip) {
    long nowNs = seen.nowNs();
    int bits = seen.known() ? known(seen, watches) : 0;
    bits |= when(watches.lid().aClosed(nowNs), Condition.LID_A_CLOSED);
    bits |= when(watches.lid().bClosed(nowNs), Condition.LID_B_CLOSED);
    bits |= when(watches.lid().proven(seen), Condition.LID_PROVEN);
    bits |= when(seen.closed(InputLine.STOP_LOOP), Condition.STOP_LOOP_CLOSED);
    bits |= when(seen.closed(InputLine.ARM_KEY), Condition.KEY_ON);
    bits |= when(noTrip, Condition.NO_TRIP);
    bits |= when(onTime(seen), Condition.SCAN_ON_TIME);
    bits |= when(RelayWatch.settled(seen), Condition.RELAYS_SETTLED);
    bits |= when(RelayWatch.bleedOpen(seen), Condition.BLEED_OPEN);
    bits |= when(!seen.drive().fire(), Condition.GATE_LOW);
    bits |= when(seen.figures().switched().isPresent(), Condition.SWITCHED);
    bits |= when(watches.proof().stands(seen.figures()), Condition.BANK_PROVEN);
    return new PermissionRow(bits);
  }

  /** The conditions that only the head can tell. */
  private static int known(Seen seen, Watches watches) {
    Figures figures = seen.figures();
    int bankMilliVolts = seen.bankMilliVolts();
    boolean young = seen.fresh(figures.limits().statusAgeFireNs());
    return when(young, Condition.STATUS_YOUNG)
        | Condition.STATUS_FRESH.bit()
        | when(seen.says(HeadFlag.CHAIN), Condition.CHAIN_CLOSED)
        | when(HeadWatch.differing(seen) == 0, Condition.CONTACTS_AGREE)
        | when(bankMilliVolts <= figures.bankCapMilliVolts(), Condition.BANK_WITHIN_CAP)
        | when(bankLow(seen), Condition.BANK_LOW)
        | when(!seen.coilCurrent(), Condition.CURRENT_ZERO)
        | when(watches.sensors().coilCool(seen) && !watches.heat().spent(), Condition.COIL_COOL)
        | when(seen.says(HeadFlag.PERMIT), Condition.PERMIT_HELD)
        | when(watches.identity().fit(figures), Condition.HEAD_KNOWN)
        | when(watches.pulse().windowOpen(seen), Condition.WINDOW_OPEN)
        | when(watches.jig().parked(seen), Condition.JIG_PARKED)
        | when(JigWatch.fit(seen), Condition.JIG_FIT);
  }

  /** A bank fills slowly, and a line tells in time. */
  private static boolean bankLow(Seen seen) {
    boolean told = seen.figures().switched().isEmpty() || tellsOfFeed(seen);
    return told && seen.bankMilliVolts() <= seen.figures().bankLowMilliVolts();
  }

  /**
   * A feed stands at its full voltage at once: while its relay is driven, or is not seen released,
   * and until a line has come that was measured after that, a low figure tells nothing. Lines may
   * be lost, so it is the newest one's own time that counts.
   */
  private static boolean tellsOfFeed(Seen seen) {
    long sinceNs = seen.drive().holdSinceNs();
    return !seen.drive().hold()
        && seen.closed(InputLine.BLEED_CONTACT)
        && seen.nowNs() - sinceNs >= FEED_TOLD_NS
        && seen.nowNs() - seen.headAgeNs() - sinceNs >= LINE_AFTER_NS;
  }

  private static boolean readInTime(Seen seen) {
    return onTime(seen) && seen.nowNs() - seen.in().contacts().readAtNs() < Latch.STEADY_NS;
  }

  private static boolean onTime(Seen seen) {
    return seen.in().lateNs() <= seen.figures().limits().scanLateFireWaitsNs();
  }

  private static int when(boolean met, Condition condition) {
    return met ? condition.bit() : 0;
  }
}
