package lodestep.soak;

import java.util.List;

/** Rules of the bank, its relays, and the head's permit. */
final class BankRules {

  private BankRules() {}

  static List<Rule> all() {
    return List.of(
        new FillsAndBleedsApart(),
        new PermitNeedsHost(),
        new ChainCuts(),
        new BleedsAfterAnyStop(),
        new NeverOverVoltage(),
        new SeesAWeld(),
        new ProvenBeforeUse());
  }

  /** Supply and bleed resistor never meet for long. */
  static final class FillsAndBleedsApart extends Rule {
    private static final int OVERLAP_MS = 20;

    private int together;

    FillsAndBleedsApart() {
      super("INV-05", "supply and closed bleed contact are never together for more than 20 ms");
    }

    @Override
    boolean broken(Witness w) {
      together = w.filling && w.bleeding ? together + 1 : 0;
      return together > OVERLAP_MS
          && !w.relayBroken("fill", "bank fill", 200)
          && !w.relayBroken("hold", "bank hold", 200);
    }
  }

  /** The permit goes with the host. */
  static final class PermitNeedsHost extends Rule {
    /** The line to the head, the head's own limit and the relay's fall together. */
    private static final long LINK_MS = 250;

    private static final long WATCHDOG_MS = 251;

    PermitNeedsHost() {
      super(
          "INV-08",
          "the permit's contact is open 250 ms after the last heartbeat that asks for it is sent");
    }

    @Override
    boolean broken(Witness w) {
      if (!w.permit || w.ms - w.permitBeatAtMs <= LINK_MS) {
        return false;
      }
      boolean hung = w.stood(HappeningKind.HEAD_HUNG, LINK_MS + WATCHDOG_MS);
      return !w.relayBroken("permit", "", 20)
          && (!hung || w.ms - w.permitBeatAtMs > LINK_MS + WATCHDOG_MS);
    }
  }

  /** The hard-wired chain cuts whatever drives a field within a relay's fall. */
  static final class ChainCuts extends Rule {
    private static final int FALL_MS = 6;

    private int openForMs;

    ChainCuts() {
      super("INV-09", "an open chain cuts filling, feed, firing and the jig's motor within 6 ms");
    }

    @Override
    boolean broken(Witness w) {
      openForMs = w.chain ? 0 : openForMs + 1;
      return openForMs > FALL_MS
          && (w.firing
              || w.motorFed
              || (w.filling && !stuck(w, "fill"))
              || (w.feeding && !stuck(w, "on")));
    }

    private static boolean stuck(Witness w, String relay) {
      return w.stood(HappeningKind.RELAY_PULLED, relay, 10)
          || w.stood(HappeningKind.RELAY_WELDED, relay, 10);
    }
  }

  /** The bank is low five seconds after any stop, or an alarm stands. */
  static final class BleedsAfterAnyStop extends Rule {
    private static final double LOW_VOLTS = 10.05;
    private static final int WITHIN_MS = 5_000;

    /** A part that fills it again later is to be seen within this time, as {@link SeesAWeld}. */
    private static final int SEEN_WITHIN_MS = 150;

    private int stoppedForMs;
    private int filledForMs;

    BleedsAfterAnyStop() {
      super(
          "INV-10",
          "five seconds after any stop bank or feed is at or below 10 V, or an alarm stands");
    }

    @Override
    boolean broken(Witness w) {
      boolean stopped = w.tripped || !w.hostUp || !w.chain;
      stoppedForMs = stopped ? stoppedForMs + 1 : 0;
      filledForMs = w.bankVolts > LOW_VOLTS ? filledForMs + 1 : 0;
      if (stoppedForMs <= WITHIN_MS || w.bankVolts <= LOW_VOLTS) {
        return false;
      }
      if (!partsBroken(w)) {
        return true;
      }
      // Broken parts hold the charge: that must stand on the lamp as long as a program runs.
      boolean blind =
          w.hostPaused
              || w.stood(HappeningKind.BANK_SENSE, 8_000)
              || w.stood(HappeningKind.OUTPUT_LOW, 0);
      boolean seen = filledForMs > SEEN_WITHIN_MS;
      return w.hostUp && w.ms - w.hostFromMs > WITHIN_MS && seen && !w.tripped && !blind;
    }

    private static boolean partsBroken(Witness w) {
      return w.relayBroken("hold", "bank hold", WITHIN_MS)
          || w.relayBroken("fill", "bank fill", WITHIN_MS)
          || w.relayBroken("on", "coil on", WITHIN_MS)
          || w.relayBroken("permit", "", WITHIN_MS)
          || w.stood(HappeningKind.BLEED_OPEN, WITHIN_MS);
    }
  }

  /** Nothing lifts the bank over the comparator's level. */
  static final class NeverOverVoltage extends Rule {
    /** 105 per cent of 50 V, and what flows while the relay falls. */
    private static final double CAP_VOLTS = 52.5 + 0.5;

    NeverOverVoltage() {
      super("INV-12", "the bank is never above 105 per cent of 50 V");
    }

    @Override
    boolean broken(Witness w) {
      // What a supply gives at once no comparator can keep from the feed.
      if (w.bankVolts <= CAP_VOLTS || !w.rig.bank()) {
        return false;
      }
      // A welded fill relay on a wrong supply is two faults against a chain that has one contact.
      boolean welded =
          w.stood(HappeningKind.RELAY_PULLED, "fill", 5_000)
              || w.stood(HappeningKind.RELAY_WELDED, "fill", 5_000);
      return !welded || !w.stood(HappeningKind.SUPPLY_WRONG, 30_000);
    }
  }

  /** A fill or feed relay that does not open is seen. */
  static final class SeesAWeld extends Rule {
    private static final int WITHIN_MS = 150;

    private int weldedForMs;

    SeesAWeld() {
      super("R1", "a fill or feed relay that stays closed trips within 150 ms");
    }

    @Override
    boolean broken(Witness w) {
      boolean fill = w.filling && (w.asked & Bits.FILL) == 0 && !lies(w, "fill contact");
      boolean feed = w.feeding && (w.asked & Bits.FEED) == 0 && !lies(w, "bleed contact");
      weldedForMs = (fill || feed) && !blind(w) ? weldedForMs + 1 : 0;
      return weldedForMs > WITHIN_MS && !w.tripped;
    }

    private static boolean lies(Witness w, String contact) {
      return w.stood(HappeningKind.CONTACT_CLOSED, contact, 0)
          || w.stood(HappeningKind.INPUT_FLIPPED, contact, 0);
    }

    private static boolean blind(Witness w) {
      return !w.hostUp
          || w.hostPaused
          || w.ms - w.scanAtMs > 10
          || w.ms - w.hostFromMs < 10
          || w.stood(HappeningKind.PULSE_NOISE, 0);
    }
  }
}
