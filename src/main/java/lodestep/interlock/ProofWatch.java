package lodestep.interlock;

import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;

/**
 * Whether the parts that end a charge have been seen to do so before there is one: fill contact,
 * switch and bleed, at a bank of {@link Figures#bankLowMilliVolts} at most. It is worked out from
 * what is driven and measured, whoever drives it and why:
 *
 * <ol>
 *   <li>the low bank is filled by its relay, and the relay let go: the fill contact must open;
 *   <li>held, with both ranges of the coil's path on the switch, the bank must stand for {@link
 *       #HELD_FOR_NS}: no rise, no current, no fall but the bleeder's: contact and switch block;
 *   <li>let go, it must come to half as the bleed path says, or at half its speed: it bleeds.
 * </ol>
 *
 * <p>The lid opened, a trip, another run of the head or age end a proof: what lay in reach of
 * hands, or broke, is proven anew.
 *
 * @param stage how far it has come
 * @param filled the bank when the watch of the held bank began
 * @param held the bank at the newest line of that watch; from its end on the bank let go
 * @param coilMilliAmps largest current in a line of that watch, without sign
 * @param bled the bank when it was seen to have bled
 * @param bootId the head's run that all this was measured in
 */
record ProofWatch(Stage stage, Mark filled, Mark held, int coilMilliAmps, Mark bled, int bootId) {

  /** How far a proof has come. */
  enum Stage {
    /** Nothing is proven. */
    NONE,
    /** A low bank is being filled. */
    FILLING,
    /** The fill relay was let go and the bank is held. */
    HELD,
    /** The hold was dropped. */
    BLEEDING,
    /** In this very scan the bank was seen to have bled. */
    JUST_PROVEN,
    /** All of it was seen. */
    PROVEN,
    /** The held bank falls by itself. */
    LEAKS,
    /** The bank that was let go does not bleed. */
    STAYS
  }

  static final ProofWatch NONE = new ProofWatch(Stage.NONE, Mark.NONE, Mark.NONE, 0, Mark.NONE, 0);

  /** Five status lines: a current or a fall cannot hide between them; starting value. */
  static final long HELD_FOR_NS = 50_000_000L;

  /** Below this a shorted switch could not drive a current that shows; starting value. */
  static final int LEAST_MILLI_VOLTS = 3_000;

  /** A bleeder of half its resistance, and what the capacitors settle by; starting values. */
  static final double FASTEST_BLEEDER = 2.0;

  static final int SETTLES_BY_MILLI_VOLTS = 100;

  /** Far above the converter's noise, far below what a welded contact adds; starting value. */
  static final int RISE_MILLI_VOLTS = 50;

  /** The capacitors may have settled by then: their own resistance, and the relay's release. */
  static final long RELEASED_FOR_NS = RisingWatch.RELEASED_FOR_NS;

  /** Fall of the hold relay and age of a line, with margin; starting value. */
  static final long LET_GO_FOR_NS = 100_000_000L;

  /** Whether the bank may be filled above low, and fired. */
  boolean stands(Figures figures) {
    return !figures.bank() || proven();
  }

  private boolean proven() {
    return stage == Stage.PROVEN || stage == Stage.JUST_PROVEN;
  }

  /** What was seen, in the scan that completed it. */
  Optional<BankProof> completed() {
    return stage == Stage.JUST_PROVEN
        ? Optional.of(
            new BankProof(
                filled.milliVolts(),
                held.milliVolts(),
                (held.atNs() - filled.atNs()) / 1_000,
                coilMilliAmps,
                bled.milliVolts(),
                (bled.atNs() - held.atNs()) / 1_000))
        : Optional.empty();
  }

  ProofWatch step(Seen seen) {
    if (!seen.figures().bank()) {
      return this;
    }
    if (stage == Stage.NONE) {
      return begins(seen) ? new ProofWatch(Stage.FILLING, seen.head().bootId()) : this;
    }
    if (ended(seen)) {
      return NONE;
    }
    return switch (stage) {
      case FILLING -> filling(seen);
      case HELD -> held(seen);
      case BLEEDING -> bleeding(seen);
      case JUST_PROVEN -> at(Stage.PROVEN);
      case NONE, PROVEN -> this;
      case LEAKS, STAYS -> NONE;
    };
  }

  private ProofWatch(Stage stage, int bootId) {
    this(stage, Mark.NONE, Mark.NONE, 0, Mark.NONE, bootId);
  }

  private ProofWatch at(Stage next) {
    return new ProofWatch(next, filled, held, coilMilliAmps, bled, bootId);
  }

  private static boolean begins(Seen seen) {
    return seen.known()
        && lidClosed(seen)
        && seen.drive().fill()
        && RelayWatch.bleedOpen(seen)
        && low(seen);
  }

  private static boolean lidClosed(Seen seen) {
    return seen.closed(InputLine.LID_A) && seen.closed(InputLine.LID_B);
  }

  private static boolean low(Seen seen) {
    return seen.bankMilliVolts() <= seen.figures().bankLowMilliVolts();
  }

  /**
   * Whether what has been seen counts no more; age is asked for only while nothing is energised.
   */
  private boolean ended(Seen seen) {
    boolean old =
        proven()
            && !seen.energised()
            && seen.nowNs() - bled.atNs() > seen.figures().limits().bankProofNs();
    return !seen.known()
        || !lidClosed(seen)
        || seen.head().bootId() != bootId
        || old
        || (!proven() && (seen.drive().fire() || seen.coilCurrent() || !low(seen)));
  }

  private ProofWatch filling(Seen seen) {
    if (!RelayWatch.bleedOpen(seen)) {
      return NONE;
    }
    return seen.drive().fill() ? this : new ProofWatch(Stage.HELD, bootId);
  }

  private ProofWatch held(Seen seen) {
    if (seen.drive().fill()) {
      return new ProofWatch(Stage.FILLING, bootId);
    }
    if (!seen.drive().hold()) {
      boolean watched = filled.isMade() && held.atNs() - filled.atNs() >= HELD_FOR_NS;
      return watched ? let(seen.nowNs()) : NONE;
    }
    if (!seen.news()) {
      return this;
    }
    Mark here = new Mark(seen.bankMilliVolts(), seen.nowNs());
    boolean rising = filled.isMade() && here.milliVolts() > filled.milliVolts() + RISE_MILLI_VOLTS;
    if (!watchable(seen) || !filled.isMade() || rising) {
      Mark from = watchable(seen) ? here : Mark.NONE;
      return new ProofWatch(Stage.HELD, from, from, 0, Mark.NONE, bootId);
    }
    int most = Math.max(coilMilliAmps, Math.abs(seen.head().coilMilliAmps()));
    Stage next = falls(here, seen.figures()) ? Stage.LEAKS : Stage.HELD;
    return new ProofWatch(next, filled, here, most, Mark.NONE, bootId);
  }

  private ProofWatch let(long nowNs) {
    Mark from = new Mark(held.milliVolts(), nowNs);
    return new ProofWatch(Stage.BLEEDING, filled, from, coilMilliAmps, Mark.NONE, bootId);
  }

  /** Enough in the bank, the fill contact seen open, and the coil's whole path on the switch. */
  private static boolean watchable(Seen seen) {
    return seen.bankMilliVolts() >= LEAST_MILLI_VOLTS
        && seen.nowNs() - seen.drive().fillSinceNs() >= RELEASED_FOR_NS
        && seen.driven(OutputLine.COIL_FULL)
        && RelayWatch.bleedOpen(seen)
        && RelayWatch.settled(seen);
  }

  private boolean falls(Mark here, Figures figures) {
    double timeConstants =
        FASTEST_BLEEDER * (here.atNs() - filled.atNs()) / figures.bleederTimeConstantNs();
    double least = filled.milliVolts() * Math.exp(-timeConstants) - SETTLES_BY_MILLI_VOLTS;
    return here.milliVolts() < least;
  }

  private ProofWatch bleeding(Seen seen) {
    if (seen.drive().hold()) {
      return NONE;
    }
    if (!seen.news()) {
      return this;
    }
    long forNs = seen.nowNs() - held.atNs();
    double halvedNs = 2 * seen.figures().bleedTimeConstantNs() * Math.log(2) + LET_GO_FOR_NS;
    if (forNs > halvedNs) {
      return at(Stage.STAYS);
    }
    boolean half = 2 * seen.bankMilliVolts() <= held.milliVolts();
    Mark here = new Mark(seen.bankMilliVolts(), seen.nowNs());
    return half && seen.closed(InputLine.BLEED_CONTACT)
        ? new ProofWatch(Stage.JUST_PROVEN, filled, held, coilMilliAmps, here, bootId)
        : this;
  }

  long causes() {
    return Causes.when(stage == Stage.LEAKS, TripCause.BANK_FALLING)
        | Causes.when(stage == Stage.STAYS, TripCause.BANK_NOT_FALLING);
  }
}
