package lodestep.soak;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;

/** Rules of the record: what it says is what was, and each thing once. */
final class RecordRules {

  private RecordRules() {}

  static List<Rule> all() {
    return List.of(
        new OneOutcome(),
        new OutcomeIsTrue(),
        new StrokeIsTrue(),
        new PeakIsTrue(),
        new ZeroWithTheJigParked(),
        new AcceptedByAReading(),
        new AcceptedTruly(),
        new OpposedAsOnRecord(),
        new IntentWithinCap(),
        new StrokeWithinGap());
  }

  /** A rule about each event as it is handed to the ledger. */
  abstract static class OfEvents extends Rule {
    private String what = "";

    OfEvents(String id, String words) {
      super(id, words);
    }

    @Override
    final boolean broken(Witness w) {
      List<RecordFacts.Entry> fresh = w.record.fresh();
      for (int i = 0; i < fresh.size(); i++) {
        what = objection(w, fresh.get(i));
        if (!what.isEmpty()) {
          what = "event " + fresh.get(i).number() + ": " + what + "; ";
          return true;
        }
      }
      return false;
    }

    /** What is wrong with it; empty when nothing is. */
    abstract String objection(Witness w, RecordFacts.Entry entry);

    @Override
    String detail(Witness w) {
      return what + super.detail(w);
    }
  }

  /** Each intent is closed once; as unknown only by a program that was started after it. */
  static final class OneOutcome extends OfEvents {
    OneOutcome() {
      super("INV-16", "each intent has one outcome, and is unknown only after a crash");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      if (!(entry.event() instanceof ActEvent.ActEnded ended)) {
        return "";
      }
      Optional<RecordFacts.Act> pulse = w.record.act(ended.intent());
      if (pulse.isEmpty()) {
        return "an outcome of intent " + ended.intent() + ", which is not on record";
      }
      boolean twice = pulse.get().endedBy != 0 || closedInThisScan(w, entry, ended.intent());
      if (twice) {
        return "a second outcome of intent " + ended.intent();
      }
      boolean unknown = ended.outcome().equals("unknown");
      return unknown && w.stateBefore != RigState.OPENING
          ? "intent " + ended.intent() + " unknown to the program that fired it"
          : "";
    }

    private static boolean closedInThisScan(Witness w, RecordFacts.Entry entry, long intent) {
      for (RecordFacts.Entry other : w.record.fresh()) {
        if (other.number() < entry.number()
            && other.event() instanceof ActEvent.ActEnded ended
            && ended.intent() == intent) {
          return true;
        }
      }
      return false;
    }
  }

  /** Delivered means that current has flowed, not fired that none has. */
  static final class OutcomeIsTrue extends OfEvents {
    OutcomeIsTrue() {
      super("INV-17", "a pulse on record as delivered was one, and one as not fired was none");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      if (!(entry.event() instanceof ActEvent.PulseEnded ended)) {
        return "";
      }
      Optional<RecordFacts.Act> pulse = w.record.act(ended.intent());
      int really = pulse.map(p -> p.pulses).orElse(0);
      boolean shorted = w.stood(HappeningKind.SWITCH_SHORTED, 60_000);
      if (ended.outcome().equals("delivered") && really == 0 && !shorted) {
        return "delivered, and no current has flowed";
      }
      if (ended.outcome().equals("not fired") && really > 0) {
        return "not fired, and current has flowed";
      }
      return "";
    }
  }

  /** A stroke's place on record is where the carriage has been. */
  static final class StrokeIsTrue extends OfEvents {
    /** Backlash, a shift of home that is no loss yet, and the gap between two lines. */
    private static final double OFF_METRES = 0.3e-3;

    StrokeIsTrue() {
      super(
          "INV-17c",
          "a stroke on record as delivered came to its place within 0.3 mm, and one as not fired"
              + " did not move");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      if (!(entry.event() instanceof ActEvent.StrokeEnded ended)) {
        return "";
      }
      Optional<RecordFacts.Act> stroke = w.record.act(ended.intent());
      if (stroke.isEmpty() || JigRules.placeFalsified(w)) {
        return "";
      }
      if (ended.outcome().equals("not fired") && stroke.get().moved) {
        return "not fired, and the carriage has moved";
      }
      double really = stroke.get().lowestMetres;
      double told = ended.positionMicroMetres() * 1e-6;
      return ended.outcome().equals("delivered") && !(Math.abs(really - told) <= OFF_METRES)
          ? String.format(
              Locale.ROOT, "told %.3f mm, and came to %.3f mm", told * 1e3, really * 1e3)
          : "";
    }
  }

  /** A pulse's peak on record is what has flowed. */
  static final class PeakIsTrue extends OfEvents {
    /** The head's converter and its noise. */
    private static final double OFF_FRACTION = 0.02;

    private static final double OFF_AMPS = 0.1;

    PeakIsTrue() {
      super("INV-17d", "a delivered pulse has on record the peak that has flowed");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      if (!(entry.event() instanceof ActEvent.PulseEnded ended)
          || !ended.outcome().equals("delivered")) {
        return "";
      }
      return differ(ended.peakForwardMilliAmps(), w.peakForwardAmps)
              || differ(ended.peakReverseMilliAmps(), w.peakReverseAmps)
          ? String.format(
              Locale.ROOT,
              "told %d and %d mA, and really %.3f and %.3f A",
              ended.peakForwardMilliAmps(),
              ended.peakReverseMilliAmps(),
              w.peakForwardAmps,
              w.peakReverseAmps)
          : "";
    }

    private static boolean differ(long toldMilliAmps, double really) {
      return Math.abs(toldMilliAmps * 1e-3 - really) > OFF_FRACTION * really + OFF_AMPS;
    }
  }

  /** No zero is taken with the opposing magnet over the nest. */
  static final class ZeroWithTheJigParked extends OfEvents {
    ZeroWithTheJigParked() {
      super("INV-22d", "a zero of the gauge is taken only with the carriage at its park position");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      return entry.event() instanceof LedgerEvent.ZeroTaken
              && JigRules.CoilWithTheJigParked.away(w)
              && !JigRules.placeFalsified(w)
          ? String.format(
              Locale.ROOT, "a zero with the carriage at %.3f mm", w.carriageMetres * 1e3)
          : "";
    }
  }

  /** Accepted needs a reading after the last pulse, inside the tolerance. */
  static final class AcceptedByAReading extends OfEvents {
    AcceptedByAReading() {
      super(
          "INV-17b",
          "a magnet is accepted by a reading inside its tolerance after its last pulse; one that"
              + " was only to be charged in full, by a reading after a charge");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      if (!(entry.event() instanceof LedgerEvent.VerdictGiven verdict)
          || !verdict.verdict().equals("accepted")) {
        return "";
      }
      Optional<RecordFacts.Entry> last = w.record.lastReading(verdict.magnet());
      if (last.isEmpty() || last.get().number() < w.record.lastActEnd(verdict.magnet())) {
        return "accepted without a reading after the last pulse";
      }
      LedgerEvent.ReadingTaken reading = (LedgerEvent.ReadingTaken) last.get().event();
      if (chargedInFull(verdict)) {
        return reading.stage().equals("charged")
            ? ""
            : "accepted as charged in full by a reading " + reading.stage();
      }
      long off = Math.abs(reading.fieldMicroTesla() - verdict.targetMicroTesla());
      return off > verdict.toleranceMicroTesla() ? "accepted at " + off + " uT off its target" : "";
    }
  }

  /** What it reads then is what was asked for, so that there is no tolerance. */
  private static boolean chargedInFull(LedgerEvent.VerdictGiven verdict) {
    return verdict.toleranceMicroTesla() == 0;
  }

  /** An accepted magnet really is where the lamp says it is. */
  static final class AcceptedTruly extends OfEvents {
    /** What the gauge itself may be off: gain, wander since the zero, and warmth. */
    private static final double GAUGE_TESLA = 0.15e-3;

    private static final double GAUGE_FRACTION = 0.004;

    /** Longer than any attempt: what was disturbed in it may be in the reading. */
    static final long ATTEMPT_MS = 120_000;

    AcceptedTruly() {
      super("TRUE", "an accepted magnet really lies within its tolerance and the gauge's doubt");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      if (!(entry.event() instanceof LedgerEvent.VerdictGiven verdict)
          || !verdict.verdict().equals("accepted")
          || disturbed(w)) {
        return "";
      }
      boolean full = chargedInFull(verdict);
      double target = 1e-6 * (full ? verdict.fieldMicroTesla() : verdict.targetMicroTesla());
      double really = w.faceTesla.getAsDouble();
      double allowed =
          verdict.toleranceMicroTesla() * 1e-6 + GAUGE_TESLA + GAUGE_FRACTION * Math.abs(target);
      return Math.abs(really - target) > allowed
          ? String.format(
              Locale.ROOT,
              "accepted for %.2f mT ± %.2f mT, and really at %.2f mT",
              target * 1e3,
              verdict.toleranceMicroTesla() * 1e-3,
              really * 1e3)
          : "";
    }

    /** Another magnet lies there, or the gauge saw another thing than the magnet. */
    static boolean disturbed(Witness w) {
      return w.stood(HappeningKind.MAGNET_TAKEN, ATTEMPT_MS)
          // Its stray field is in the zero, or not.
          || w.stood(HappeningKind.OPPOSING_LOST, ATTEMPT_MS)
          || w.stood(HappeningKind.CONTACT_OPEN, "work seat", ATTEMPT_MS)
          || w.stood(HappeningKind.HOST_WIRE, "work seat", ATTEMPT_MS)
          || w.stood(HappeningKind.INPUT_FLIPPED, "work seat", ATTEMPT_MS);
    }
  }

  /** What the jig has done to an accepted magnet stands on record: its strongest reverse field. */
  static final class OpposedAsOnRecord extends OfEvents {
    /** Backlash, a shift of home that is no loss yet, and the gap between two lines. */
    private static final double OFF_METRES = 0.3e-3;

    OpposedAsOnRecord() {
      super(
          "INV-17e",
          "an accepted magnet has on record, within 0.3 mm, how near the jig has come to it since"
              + " its last charge, or may have in a stroke that a crash cut off");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      if (w.rig.jig().isEmpty()
          || !(entry.event() instanceof LedgerEvent.VerdictGiven verdict)
          || !verdict.verdict().equals("accepted")
          || AcceptedTruly.disturbed(w)
          || w.stood(HappeningKind.CHARGE_FORGOTTEN, AcceptedTruly.ATTEMPT_MS)
          || JigRules.placeFalsified(w)) {
        return "";
      }
      // With no stroke it stood at its park position.
      double park = w.rig.jig().get().screw().park().metres();
      double told = Math.max(park, w.record.lowestMicroMetres(verdict.magnet()) * 1e-6);
      double perhaps = Math.max(park, w.record.lowestPerhapsMicroMetres(verdict.magnet()) * 1e-6);
      double really = Math.max(park, w.lowestMetres.getAsDouble());
      return really < told - OFF_METRES || really > perhaps + OFF_METRES
          ? String.format(
              Locale.ROOT, "told %.3f mm, and came to %.3f mm", told * 1e3, really * 1e3)
          : "";
    }
  }

  /** No intent asks for more than the bank may hold. */
  static final class IntentWithinCap extends OfEvents {
    private static final long CAP_MILLI_VOLTS = 51_000;

    IntentWithinCap() {
      super("INV-12b", "no intent allows more than 51 V");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      return entry.event() instanceof ActEvent.PulseIntended intended
              && intended.bankMilliVoltsMax() > CAP_MILLI_VOLTS
          ? "an intent of " + intended.bankMilliVoltsMax() + " mV"
          : "";
    }
  }

  /** No intent has the opposing magnet touch the work, or the far switch opened. */
  static final class StrokeWithinGap extends OfEvents {
    private static final double FAR_MARGIN_METRES = 0.5e-3;
    private static final double ROUNDING_METRES = 2e-6;

    StrokeWithinGap() {
      super(
          "INV-22e",
          "no intent brings the opposing magnet nearer than the smallest gap, or to the far"
              + " switch");
    }

    @Override
    String objection(Witness w, RecordFacts.Entry entry) {
      if (!(entry.event() instanceof ActEvent.StrokeIntended intended)) {
        return "";
      }
      JigConfig jig = w.rig.jig().orElseThrow();
      double gap = intended.gapMicroMetres() * 1e-6;
      double lowest = jig.screw().travel().metres() - FAR_MARGIN_METRES;
      boolean near = gap < jig.smallestGap().metres() - ROUNDING_METRES;
      return near || intended.positionMicroMetres() * 1e-6 > lowest + ROUNDING_METRES
          ? "an intent of " + intended.positionMicroMetres() + " um, gap " + gap * 1e3 + " mm"
          : "";
    }
  }
}
