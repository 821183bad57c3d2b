package lodestep.interlock;

import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;

/**
 * Whether relays and output pins are where they were sent.
 *
 * @param mirrors relays whose mirror contact is not as driven
 * @param readBack lines that do not read back as driven, as bits of the outputs
 */
record RelayWatch(Persisting mirrors, Persisting readBack) {

  static final RelayWatch POWER_ON = new RelayWatch(Persisting.NONE, Persisting.NONE);

  private static final int FILL = 1;
  private static final int BLEED = 2;
  private static final int REVERSE = 4;
  private static final int FULL = 8;

  /** The fill relay must have parted from the supply before the pulse; starting value. */
  static final long FILL_ENDED_FOR_NS = 20_000_000L;

  RelayWatch step(Seen seen) {
    int differing = seen.in().driven().highBits() ^ seen.in().readBack().highBits();
    Persisting nextMirrors = mirrors.step(wrongMirrors(seen) & ~cutByChain(seen), seen.nowNs());
    Persisting nextReadBack = readBack.step(differing, seen.nowNs());
    return nextMirrors.equals(mirrors) && nextReadBack.equals(readBack)
        ? this
        : new RelayWatch(nextMirrors, nextReadBack);
  }

  /**
   * Fill and bleed contact are closed while their relay is released; the other two mirror theirs. A
   * switched coil has no fill relay, and its feed relay's mirror stands at the bleed contact's
   * place.
   */
  private static int wrongMirrors(Seen seen) {
    if (!seen.figures().coil()) {
      // There are no such relays, and so no mirror contacts.
      return 0;
    }
    boolean fill = seen.closed(InputLine.FILL_CONTACT) == seen.driven(OutputLine.BANK_FILL);
    boolean hold = seen.driven(OutputLine.BANK_HOLD) || seen.driven(OutputLine.COIL_ON);
    boolean bleed = seen.closed(InputLine.BLEED_CONTACT) == hold;
    boolean reverse =
        seen.closed(InputLine.REVERSE_CONTACT) != seen.driven(OutputLine.COIL_REVERSE);
    boolean full = seen.closed(InputLine.FULL_CONTACT) != seen.driven(OutputLine.COIL_FULL);
    return (fill && seen.figures().switched().isEmpty() ? FILL : 0)
        | (bleed ? BLEED : 0)
        | (reverse ? REVERSE : 0)
        | (full ? FULL : 0);
  }

  /**
   * Relays that the hard-wired chain may have released although they are driven. While the head
   * does not say that it holds the permit, that is no fault of the relay, and silence or the lost
   * permit is the cause to name.
   */
  private static int cutByChain(Seen seen) {
    boolean held =
        seen.fresh(seen.figures().limits().statusAgeFireNs()) && seen.says(HeadFlag.PERMIT);
    if (held) {
      return 0;
    }
    return (seen.driven(OutputLine.BANK_FILL) ? FILL : 0) | (seen.drive().hold() ? BLEED : 0);
  }

  static boolean bleedOpen(Seen seen) {
    return seen.drive().hold() && !seen.closed(InputLine.BLEED_CONTACT);
  }

  /** Whether the pulse may take its way: relays arrived and at rest, the supply parted. */
  static boolean settled(Seen seen) {
    DriveTimes drive = seen.drive();
    return (wrongMirrors(seen) & (FILL | REVERSE | FULL)) == 0
        && seen.nowNs() - drive.relaysSinceNs() >= seen.figures().limits().relaySettleNs()
        && !drive.fill()
        && seen.nowNs() - drive.fillSinceNs() >= FILL_ENDED_FOR_NS;
  }

  long causes(Seen seen) {
    boolean late = mirrors.longerThan(seen.figures().limits().relayMirrorNs(), seen.nowNs());
    int wrong = late ? mirrors.bits() : 0;
    boolean unlike = readBack.longerThan(seen.figures().limits().readBackNs(), seen.nowNs());
    return Causes.when((wrong & FILL) != 0, TripCause.FILL_CONTACT_WRONG)
        | Causes.when((wrong & BLEED) != 0, TripCause.BLEED_CONTACT_WRONG)
        | Causes.when((wrong & REVERSE) != 0, TripCause.CHANGEOVER_WRONG)
        | Causes.when((wrong & FULL) != 0, TripCause.RANGE_RELAY_WRONG)
        | Causes.when(unlike, TripCause.OUTPUT_READ_BACK);
  }
}
