package lodestep.soak;

import java.util.List;

/** Rules of persons, trips and the control loop. */
final class HostRules {

  private HostRules() {}

  static List<Rule> all() {
    return List.of(
        new StaysOffUntilReset(),
        new OnlyAKeyResets(),
        new OnlyAPersonGoesOn(),
        new NothingPendingAfterAStop(),
        new OnePedalOneStart(),
        new NothingDrivenAtRest(),
        new LateScanIsSafe());
  }

  /** After lid, stop or chain opened in use nothing is energised until the key was turned. */
  static final class StaysOffUntilReset extends Rule {
    /** Bled down to 10 V in no less time than the head's line takes. */
    private static final double IN_USE_VOLTS = 11.5;

    /** A switched coil's feed falls by a third while the head's line is on its way. */
    private static final double FEED_IN_USE_VOLTS = 15.5;

    /** The head's line, its age and one scan: the host cannot know before. */
    private static final long SEEN_MS = 40;

    private boolean wasClosed = true;
    private boolean locked;
    private long lockedAtMs;

    StaysOffUntilReset() {
      super(
          "INV-09b",
          "once lid, stop loop or chain has opened in use, nothing is energised until the arm key"
              + " was turned off and on");
    }

    @Override
    boolean broken(Witness w) {
      boolean persons = (w.contacts & Bits.PERSON_CONTACTS) == Bits.PERSON_CONTACTS;
      boolean closed = w.chain && persons;
      double restVolts = w.rig.supply() ? FEED_IN_USE_VOLTS : IN_USE_VOLTS;
      boolean inUse = w.bankVolts > restVolts || (w.asked & Bits.ENERGY) != 0;
      boolean watched = w.hostUp && w.ms - w.hostFromMs > SEEN_MS;
      if (wasClosed && !closed && inUse && watched && !w.stood(HappeningKind.BANK_SENSE, 2_000)) {
        locked = true;
        lockedAtMs = w.ms;
      }
      wasClosed = closed;
      // A new program has a fresh plan; what it may do then is said by the trip on record.
      locked = locked && w.hostUp && !turned(w);
      return locked
          && w.scanned
          && w.ms - lockedAtMs > SEEN_MS
          && (w.asked & ~w.askedBefore & Bits.ENERGY) != 0;
    }

    /** Turned by hand, or by a wire so that the host cannot tell. */
    private boolean turned(Witness w) {
      return (w.keyOnAtMs > lockedAtMs && w.keyOn())
          || w.stood(HappeningKind.INPUT_FLIPPED, "arm key", 1_000)
          || w.stood(HappeningKind.HOST_WIRE, "arm key", 1_000)
          || w.stood(HappeningKind.CONTACT_OPEN, "arm key", 1_000)
          || w.stood(HappeningKind.CONTACT_CLOSED, "arm key", 1_000);
    }
  }

  /** A trip is cleared by the key alone. */
  static final class OnlyAKeyResets extends Rule {
    private int lastStart;

    OnlyAKeyResets() {
      super(
          "INV-13",
          "a trip is cleared by the arm key turned off and on after it, and alone by that");
    }

    @Override
    boolean broken(Witness w) {
      boolean cleared =
          w.hostUp && w.scanned && w.trippedBefore && !w.tripped && lastStart == w.hostStarts;
      lastStart = w.hostStarts;
      if (!cleared) {
        return false;
      }
      boolean turned = w.keyOnAtMs >= w.trippedAtMs && w.keyOn();
      return !turned && !keyWireDisturbed(w);
    }

    /** What the host sees is then no longer what a person does. */
    private static boolean keyWireDisturbed(Witness w) {
      long since = w.ms - w.trippedAtMs + 5;
      return w.stood(HappeningKind.INPUT_FLIPPED, "arm key", since)
          || w.stood(HappeningKind.HOST_WIRE, "arm key", since)
          || w.stood(HappeningKind.CONTACT_OPEN, "arm key", since)
          || w.stood(HappeningKind.CONTACT_CLOSED, "arm key", since)
          || w.stood(HappeningKind.PULSE_NOISE, since);
    }
  }

  /** The job leaves a trip only when a person says so. */
  static final class OnlyAPersonGoesOn extends Rule {
    private long waitingFromMs;

    OnlyAPersonGoesOn() {
      super("INV-13b", "after a trip or a stop the plan goes on only when a person says so");
    }

    @Override
    boolean broken(Witness w) {
      boolean waited = w.stateBefore == RigState.TRIPPED || w.stateBefore == RigState.ATTENTION;
      boolean waits = w.state == RigState.TRIPPED || w.state == RigState.ATTENTION;
      if (waits && !waited) {
        waitingFromMs = w.ms;
      }
      boolean left = w.scanned && waited && !waits && w.state != RigState.DOWN;
      return left && w.continuedAtMs < waitingFromMs;
    }
  }

  /** While a trip stands, nothing is asked for. */
  static final class NothingPendingAfterAStop extends Rule {
    NothingPendingAfterAStop() {
      super(
          "INV-14", "while a trip stands nothing is energised and nothing that energises is asked");
    }

    @Override
    boolean broken(Witness w) {
      boolean permit = w.beats > 0 && w.permitBeatAtMs == w.ms;
      return w.scanned
          && w.tripped
          && ((w.asked & Bits.ENERGY) != 0 || w.energyRequests > 0 || permit);
    }
  }

  /** Nothing is energised that no press of the pedal has asked for. */
  static final class OnePedalOneStart extends Rule {
    private long stoppedAtMs;

    OnePedalOneStart() {
      super(
          "INV-14b",
          "nothing is energised without a press of the pedal since the last stop, start of the"
              + " program or verdict");
    }

    @Override
    boolean broken(Witness w) {
      boolean resting =
          w.tripped
              || !w.hostUp
              || w.state == RigState.SHOWING
              || w.state == RigState.ATTENTION
              || w.state == RigState.BY_HAND
              || w.state == RigState.DONE;
      if (resting) {
        stoppedAtMs = w.ms;
      }
      return w.scanned
          && (w.asked & ~w.askedBefore & Bits.ENERGY) != 0
          && w.pedalAtMs <= stoppedAtMs - 10
          && !pedalWireDisturbed(w);
    }

    private boolean pedalWireDisturbed(Witness w) {
      long since = w.ms - stoppedAtMs + 10_000;
      return w.stood(HappeningKind.INPUT_FLIPPED, "start pedal", since)
          || w.stood(HappeningKind.HOST_WIRE, "start pedal", since)
          || w.stood(HappeningKind.CONTACT_CLOSED, "start pedal", since)
          || w.stood(HappeningKind.CONTACT_OPEN, "start pedal", since)
          || w.stood(HappeningKind.PULSE_NOISE, since);
    }
  }

  /** Where a hand may be at the nest, and where a reading is taken, nothing is driven. */
  static final class NothingDrivenAtRest extends Rule {
    NothingDrivenAtRest() {
      super(
          "INV-14c",
          "nothing is driven while a magnet is awaited, read, charged by hand, shown or written"
              + " down");
    }

    @Override
    boolean broken(Witness w) {
      return w.scanned && w.state.idle() && w.stateBefore.idle() && (w.asked & Bits.ENERGY) != 0;
    }
  }

  /** A late scan is safe, and silent. */
  static final class LateScanIsSafe extends Rule {
    private static final long TRIPS_MS = 155;
    private static final long SILENT_MS = 25;

    LateScanIsSafe() {
      super(
          "INV-25",
          "a scan late by more than 20 ms sends no heartbeat, and one late by more than 150 ms"
              + " drives nothing");
    }

    @Override
    boolean broken(Witness w) {
      if (!w.scanned || w.scanAtMs - w.scanGapMs <= w.hostFromMs) {
        return false;
      }
      return (w.scanGapMs > TRIPS_MS && (w.asked & Bits.ENERGY) != 0)
          || (w.scanGapMs > SILENT_MS && w.beats > 0);
    }
  }
}
