package lodestep.soak;

/**
 * What ends a charge is seen to do so before there is one. The proof is looked for in what really
 * stands on the rig: current, voltage and contacts, not what the host measures of them.
 */
final class ProvenBeforeUse extends Rule {

  /** 10 V, and what the bank gains while it fills in the age of the head's line. */
  private static final double LOW_VOLTS = 11.0;

  /** Less than this in the bank drives nothing that would show. */
  private static final double LEAST_VOLTS = 2.5;

  private static final double NO_AMPS = 0.06;

  /** The interlocks want 50 ms of lines, of which the first and the last are up to 10 ms old. */
  private static final int BLOCKS_FOR_MS = 35;

  /**
   * The bleed path halves the bank in 0.34 s, the bleeder alone in half a minute: parted for some
   * milliseconds on the way, it has bled all the same.
   */
  private static final long HALVED_WITHIN_MS = 1_000;

  private static final long LASTS_MS = 600_000;

  /** A scan is 5 ms: an opening shorter than two of them nobody can see. */
  private static final int LID_SEEN_MS = 10;

  /** A bank measurement that lied may have spoilt the proof. */
  private static final long LIED_MS = 60_000;

  private int lidOpenForMs;
  private int hostStarts;
  private boolean charged;
  private int blockedForMs;
  private double letGoVolts;
  private long letGoAtMs;
  private boolean proven;
  private long provenAtMs;

  ProvenBeforeUse() {
    super(
        "INV-21",
        "the bank is filled above 10 V, or fired, only when with less in it its fill contact has"
            + " opened, its switch has blocked and it has bled, since the lid was open, the"
            + " program began or a trip, and in the last 10 min");
  }

  @Override
  boolean broken(Witness w) {
    boolean lid = (w.contacts & Bits.LID_A) == 0 || (w.contacts & Bits.LID_B) == 0;
    boolean scans = w.hostUp && !w.hostPaused && w.ms - w.scanAtMs <= LID_SEEN_MS;
    lidOpenForMs = lid && scans ? lidOpenForMs + 1 : 0;
    if (lidOpenForMs > LID_SEEN_MS || w.hostStarts != hostStarts || w.tripped) {
      hostStarts = w.hostStarts;
      proven = false;
      forget();
    }
    if (!proven) {
      look(w);
    }
    boolean lapsed = !proven || (w.ms - provenAtMs > LASTS_MS && !w.bleeding);
    // What goes on by itself after a trip or without a program is for other rules.
    boolean fills = w.filling && w.bankVolts > LOW_VOLTS && (w.asked & Bits.FILL) != 0;
    boolean fires = w.fireRose && (w.asked & Bits.FIRE) != 0;
    return w.rig.bank()
        && (fills || fires)
        && lapsed
        && scans
        && !w.tripped
        && !w.relayBroken("fill", "bank fill", 500)
        && !w.stood(HappeningKind.BANK_SENSE, LIED_MS);
  }

  private void forget() {
    charged = false;
    blockedForMs = 0;
    letGoVolts = 0;
  }

  private void look(Witness w) {
    // That takes nothing from a proof as long as nobody asks for it: what is in the bank still has
    // to be bled.
    boolean byItself =
        (w.asked & Bits.FILL) == 0 && w.relayBroken("fill", "bank fill", Witness.TRAVEL_MS);
    if (w.firing || w.bankVolts > LOW_VOLTS) {
      forget();
    } else if (w.filling && !byItself) {
      charged = true;
      blockedForMs = 0;
      letGoVolts = 0;
    } else if (!w.bleeding) {
      held(w);
    } else {
      blockedForMs = 0;
      if (letGoVolts > 0 && w.ms - letGoAtMs <= HALVED_WITHIN_MS) {
        proven = w.bankVolts <= letGoVolts / 2;
        provenAtMs = w.ms;
      }
    }
  }

  private void held(Witness w) {
    boolean blocks = Math.abs(w.coilAmps) < NO_AMPS;
    boolean shows = charged && w.bankVolts > LEAST_VOLTS;
    blockedForMs = blocks && shows ? blockedForMs + 1 : 0;
    if (!blocks) {
      letGoVolts = 0;
    } else if (blockedForMs >= BLOCKS_FOR_MS) {
      letGoVolts = w.bankVolts;
      letGoAtMs = w.ms;
    }
  }
}
