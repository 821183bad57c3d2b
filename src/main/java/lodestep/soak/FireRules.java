package lodestep.soak;

import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import lodestep.port.ActEvent;

/** Rules of the gate, the fire window and the coil. */
final class FireRules {

  private FireRules() {}

  static List<Rule> all() {
    return List.of(
        new FiresOnlyWhenSafe(),
        new AsksToFireOnFreshInputs(),
        new OneTokenOnePulse(),
        new GateIsShort(),
        new FillsAndFiresApart(),
        new TurnsDry(),
        new FiresOnRecord(),
        new StaysCool());
  }

  /** The gate is fed only with lid, stop loop, chain, coil, bank and relays as they must be. */
  static final class FiresOnlyWhenSafe extends Rule {
    private static final long STABLE_MS = 50;
    private static final double BANK_DOUBT = 1.002;
    private static final double BANK_DOUBT_VOLTS = 0.02;

    /** A supply may give so much more than it says. */
    private static final double FEED_MARGIN = 1.04;

    private String why = "";
    private int lastDirection = 1;
    private long directionFromMs;
    private long fillOpenFromMs;

    FiresOnlyWhenSafe() {
      super(
          "INV-01",
          "the gate is fed only with lid contacts and stop loop closed for 50 ms, the"
              + " chain closed, the coil cool, the bank within the intent, the changeover as asked"
              + " and still for 50 ms, the supply off for 20 ms and the bleed contact open");
    }

    @Override
    boolean broken(Witness w) {
      if (w.direction != lastDirection) {
        lastDirection = w.direction;
        directionFromMs = w.ms;
      }
      if (w.filling) {
        fillOpenFromMs = w.ms;
      }
      if (!w.fireRose) {
        return false;
      }
      why = person(w) + coil(w) + bank(w) + relays(w);
      return !why.isEmpty();
    }

    private static String person(Witness w) {
      String said = w.ms - w.lidAClosedFromMs < STABLE_MS ? "lid contact A; " : "";
      said += w.ms - w.lidBClosedFromMs < STABLE_MS ? "lid contact B; " : "";
      said += w.ms - w.stopClosedFromMs < STABLE_MS ? "stop loop; " : "";
      return said + (w.chain ? "" : "chain; ");
    }

    private static String coil(Witness w) {
      boolean lied = w.stood(HappeningKind.COIL_SENSOR, 2_000);
      // A line is 10 ms old and the sensor has noise.
      return w.coilKelvin > w.rig.coilKelvinMax() + 1.0 && !lied ? "coil hot; " : "";
    }

    private static String bank(Witness w) {
      Optional<RecordFacts.Act> pulse = w.record.act(w.windowIntent);
      if (pulse.isEmpty() || w.stood(HappeningKind.BANK_SENSE, 2_000)) {
        return "";
      }
      double most = mostVolts(pulse.get().intended);
      return w.bankVolts > most * BANK_DOUBT + BANK_DOUBT_VOLTS ? "bank above the intent; " : "";
    }

    private static double mostVolts(ActEvent.Intent intended) {
      if (intended instanceof ActEvent.PulseIntended pulse) {
        return pulse.bankMilliVoltsMax() * 1e-3;
      }
      return intended instanceof ActEvent.SwitchedPulseIntended pulse
          ? pulse.supplyMilliVolts() * 1e-3 * FEED_MARGIN
          : 0;
    }

    private String relays(Witness w) {
      Optional<RecordFacts.Act> pulse = w.record.act(w.windowIntent);
      boolean jolted = w.relayJolted("reverse", "coil reverse", STABLE_MS + 10);
      String said = "";
      if (pulse.isPresent() && !jolted) {
        int asked = pulse.get().intended.drivesNorth() ? 1 : -1;
        said += w.direction == asked ? "" : "changeover not as asked; ";
        said += w.ms - directionFromMs < STABLE_MS ? "changeover not still; " : "";
      }
      boolean fillJolted = w.relayJolted("fill", "bank fill", 30);
      said += w.ms - fillOpenFromMs < 20 && !fillJolted ? "supply on; " : "";
      boolean holdJolted = w.relayJolted("hold", "bank hold", 30) || !w.rig.bank();
      return said + (w.bleeding && !holdJolted ? "bleed contact closed; " : "");
    }

    @Override
    String detail(Witness w) {
      return why + super.detail(w);
    }
  }

  /** The host raises the gate only on fresh inputs and in a scan that is on time. */
  static final class AsksToFireOnFreshInputs extends Rule {
    private static final long FRESH_MS = 50;
    private static final long GAP_MS = 25;

    AsksToFireOnFreshInputs() {
      super("INV-02", "the gate is raised only on inputs of the last 50 ms, in a scan on time");
    }

    @Override
    boolean broken(Witness w) {
      return w.scanned
          && (w.asked & ~w.askedBefore & Bits.FIRE) != 0
          && (w.ms - w.statusAtMs > FRESH_MS || w.scanGapMs > GAP_MS);
    }
  }

  /** Each feeding of the gate spends one token of this head for this intent. */
  static final class OneTokenOnePulse extends Rule {
    private static final long LIVES_MS = 500;
    private static final long WINDOW_MS = 310;

    private final Set<Long> spent = new HashSet<>();
    private String why = "";

    OneTokenOnePulse() {
      super("INV-03", "each feeding of the gate spends one token, granted not long before, once");
    }

    @Override
    boolean broken(Witness w) {
      if (!w.fireRose) {
        return false;
      }
      // Tokens of two runs of the head may be alike; with the time of the grant they are not.
      boolean fresh = spent.add(w.grantedAtMs * 31 + w.windowToken);
      boolean granted = w.grantedToken == w.windowToken && w.grantedIntent == w.windowIntent;
      boolean young = w.windowAskedAtMs - w.grantedAtMs <= LIVES_MS;
      boolean inWindow = w.ms - w.windowAskedAtMs <= WINDOW_MS;
      why =
          (fresh ? "" : "token spent before; ")
              + (granted ? "" : "token not granted; ")
              + (young ? "" : "token too old; ")
              + (inWindow ? "" : "window long over; ");
      return !why.isEmpty();
    }

    @Override
    String detail(Witness w) {
      return why + super.detail(w);
    }
  }

  /** The gate is never fed longer than the window, or a switched coil's timer. */
  static final class GateIsShort extends Rule {
    private static final long WINDOW_MS = 300;
    private static final long WATCHDOG_MS = 251;

    private long fedForMs;

    GateIsShort() {
      super(
          "INV-04",
          "the gate is fed for 300 ms at most, a switched coil's for no longer than its timer lets"
              + " it");
    }

    @Override
    boolean broken(Witness w) {
      fedForMs = w.firing ? fedForMs + 1 : 0;
      boolean timer = w.rig.supply() && !w.stood(HappeningKind.TIMER_DEAD, WINDOW_MS);
      long mostMs = (timer ? w.rig.gateMsMax() : WINDOW_MS) + 1;
      if (fedForMs <= mostMs) {
        return false;
      }
      boolean hung = !timer && w.stood(HappeningKind.HEAD_HUNG, WINDOW_MS + WATCHDOG_MS);
      return !hung || fedForMs > mostMs + WATCHDOG_MS;
    }
  }

  /** The supply is never connected while the gate is fed. */
  static final class FillsAndFiresApart extends Rule {
    FillsAndFiresApart() {
      super("INV-06", "the bank is never filled and fired together");
    }

    @Override
    boolean broken(Witness w) {
      return w.filling && w.firing && !w.relayJolted("fill", "bank fill", 320);
    }
  }

  /** The changeover moves without current, without a charge and without a window. */
  static final class TurnsDry extends Rule {
    private static final double CURRENT_ZERO_AMPS = 0.06;

    /** 10 V, and what the bank gains while it fills in the age of the head's line. */
    private static final double BANK_LOW_VOLTS = 11.0;

    /** From the relay's drive to its first contact, and the head's line before it. */
    private static final long TRAVEL_MS = 30;

    /**
     * A feed relay that pulls in by itself shows it after 6 ms, a scan later the changeover goes.
     */
    private static final long FEED_SHOWS_MS = 20;

    private int last = 1;

    TurnsDry() {
      super(
          "INV-07",
          "the changeover never moves while the coil carries current, the bank is above 10 V or a"
              + " window is open");
    }

    @Override
    boolean broken(Witness w) {
      boolean moves = w.direction != last && last != 0;
      last = w.direction;
      if (!moves) {
        return false;
      }
      boolean current = Math.abs(w.coilAmps) > CURRENT_ZERO_AMPS;
      boolean filled = w.bankVolts > BANK_LOW_VOLTS;
      if (!current && !filled && !w.window) {
        return false;
      }
      boolean rig =
          w.relayJolted("reverse", "coil reverse", TRAVEL_MS)
              || w.relayJolted("on", "coil on", FEED_SHOWS_MS)
              || w.stood(HappeningKind.SWITCH_SHORTED, TRAVEL_MS)
              || w.stood(HappeningKind.BANK_SENSE, 2_000);
      // Who loses its lines with the computer, or finds them anew, has no say in it.
      boolean computer = !w.hostUp || w.ms - w.hostFromMs <= 100;
      return !rig && !computer;
    }
  }

  /** No current without a durable intent. */
  static final class FiresOnRecord extends Rule {
    private static final int ENERGISES = Bits.FILL | Bits.HOLD | Bits.FEED;

    private String why = "";

    FiresOnRecord() {
      super(
          "INV-15",
          "each pulse has an intent that is durable before bank or feed is used and before firing");
    }

    @Override
    boolean broken(Witness w) {
      boolean fills = w.scanned && (w.asked & ~w.askedBefore & ENERGISES) != 0;
      if (fills && !w.record.hasOpenDurableIntent()) {
        why = "bank or feed used with no durable intent; ";
        return true;
      }
      if (w.fireRose && (!durable(w) || w.record.act(w.windowIntent).isEmpty())) {
        why = "gate fed with no durable intent; ";
        return true;
      }
      if (w.pulseBegan && !w.firing && !w.stood(HappeningKind.SWITCH_SHORTED, 10)) {
        why = "current with the gate not fed; ";
        return true;
      }
      return false;
    }

    private static boolean durable(Witness w) {
      return w.windowIntent <= w.record.acknowledgedTo();
    }

    @Override
    String detail(Witness w) {
      return why + "intent " + w.windowIntent + ", " + super.detail(w);
    }
  }

  /** The coil never gets hotter than the thermostat lets it. */
  static final class StaysCool extends Rule {
    /** The thermostat's own margin, and one more pulse. */
    private static final double ABOVE_KELVIN = 25;

    StaysCool() {
      super("INV-24", "the coil stays within 25 K of its highest temperature of use");
    }

    @Override
    boolean broken(Witness w) {
      return w.coilKelvin > w.rig.coilKelvinMax() + ABOVE_KELVIN;
    }

    @Override
    String detail(Witness w) {
      return String.format(Locale.ROOT, "coil at %.1f K, %s", w.coilKelvin, super.detail(w));
    }
  }
}
