package lodestep.soak;

import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleSupplier;
import lodestep.port.OutputLine;
import lodestep.sim.RigTruth;

/**
 * All that the rules look at, one set of plain figures for each millisecond: what really stands on
 * the rig, what persons and faults do, and what the host asks for at its ports. Nothing is taken
 * from interlocks or sequences but whether a trip stands and which state is shown; nothing is made
 * for a look. Confined to its world.
 */
final class Witness {

  static final long NEVER = Long.MIN_VALUE / 4;

  /** A small relay's drive, travel and bounce. */
  static final long TRAVEL_MS = 30;

  private static final long PERMIT_FALLS_MS = 20;

  /** The head's own limit, and its watchdog's. */
  private static final long HEAD_BACK_MS = 501;

  /** The rig's own figures. */
  final RigFigures rig;

  /** Virtual time since the rig was switched on, in milliseconds. */
  long ms;

  // What really stands on the rig, as in RigTruth.
  double bankVolts;
  double coilAmps;
  double coilKelvin;
  int contacts;
  int pins;
  boolean chain;
  boolean permit;
  boolean filling;
  boolean bleeding;
  boolean firing;
  boolean window;
  int direction = 1;
  long pulses;
  boolean fireRose;
  boolean pulseBegan;
  double peakForwardAmps;
  double peakReverseAmps;

  // A switched coil's feed and ladder.
  boolean feeding;
  int level;
  boolean full;

  // The jig; not a number without one.
  boolean motorFed;
  double carriageMetres = Double.NaN;
  double carriageBefore = Double.NaN;

  /**
   * Since when each of lid A, lid B and stop loop has been closed; {@link #ms} while it is open.
   */
  long lidAClosedFromMs;

  long lidBClosedFromMs;
  long stopClosedFromMs;

  // What persons did last.
  long keyOffAtMs;
  long keyOnAtMs = NEVER;
  long pedalAtMs = NEVER;
  long continuedAtMs = NEVER;
  int hands;
  private boolean permitAtDeath;

  /**
   * Longest time from a program's death to the fall of the permit; 0 if none died with it. A permit
   * relay that is stuck, or a head that hangs until its watchdog's time, falls when it may: how
   * late that is INV-08 judges, and the chain does not wait for it.
   */
  long permitGoneMs;

  private int verdicts;

  // The host at its ports.
  boolean hostUp;
  boolean hostPaused;
  long hostFromMs;
  long hostUntilMs;
  int hostStarts;
  boolean scanned;
  long scanAtMs;
  long scanGapMs;
  int asked;
  int askedBefore;
  int beats;
  long permitBeatAtMs = NEVER;
  long statusAtMs = NEVER;
  int energyRequests;
  boolean tripped;
  boolean trippedBefore;
  int tripCode;
  long trippedAtMs = NEVER;
  RigState state = RigState.DOWN;
  RigState stateBefore = RigState.DOWN;

  // The newest request for the fire window, and the newest token granted.
  int windowToken;
  long windowIntent;
  long windowAskedAtMs = NEVER;
  int grantedToken;
  long grantedIntent;
  long grantedAtMs = NEVER;

  /** Flux density that the magnet really shows the gauge, in tesla; looked up only when asked. */
  DoubleSupplier faceTesla = () -> 0;

  /**
   * The nearest that the carriage has come, since its last charge, over the magnet last in the
   * nest, in metres from home; looked up only when asked.
   */
  DoubleSupplier lowestMetres = () -> 0;

  /** The record as it grows. */
  final RecordFacts record = new RecordFacts();

  private static final List<String> LADDER =
      OutputLine.LADDER.stream().map(HappeningKind::word).toList();

  private final long[] stoodAtMs = new long[HappeningKind.values().length * HappeningKind.ON_MAX];
  private final long[] edgeAtMs = new long[stoodAtMs.length];

  Witness(RigFigures rig) {
    this.rig = rig;
    Arrays.fill(stoodAtMs, NEVER);
    Arrays.fill(edgeAtMs, NEVER);
  }

  /**
   * A program starts in this millisecond; what still stands at the pins, the dead one has asked.
   */
  void hostStarts() {
    asked = 0;
    hostUp = true;
    hostFromMs = ms;
    scanAtMs = ms;
    trippedAtMs = ms;
    hostStarts++;
    state = RigState.OPENING;
  }

  /** The program is gone. */
  void hostIsDead() {
    hostUp = false;
    hostUntilMs = ms;
    tripped = false;
    state = RigState.DOWN;
    permitAtDeath = permit;
  }

  private void watchPermitAfterDeath() {
    if (permitAtDeath && !permit) {
      permitAtDeath = false;
      boolean counts =
          !hostUp
              && !relayBroken("permit", "", PERMIT_FALLS_MS)
              && !stood(HappeningKind.HEAD_HUNG, HEAD_BACK_MS);
      permitGoneMs = counts ? Math.max(permitGoneMs, ms - hostUntilMs) : permitGoneMs;
    }
  }

  /** Takes up the rig's truth of this millisecond. */
  void look(RigTruth truth) {
    ms++;
    bankVolts = truth.bankVolts();
    coilAmps = truth.coilAmps();
    coilKelvin = truth.coilKelvin();
    contacts = truth.contactBits();
    pins = truth.outputBits();
    chain = truth.chainClosed();
    permit = truth.permitClosed();
    filling = truth.filling();
    bleeding = truth.bleeding();
    boolean fires = truth.firing();
    fireRose = fires && !firing;
    firing = fires;
    window = truth.windowOpen();
    direction = truth.direction();
    pulseBegan = truth.pulses() != pulses;
    pulses = truth.pulses();
    peakForwardAmps = truth.peakForwardAmps();
    peakReverseAmps = truth.peakReverseAmps();
    lookAtOthers(truth);
    hostPaused = truth.hostPaused();
    watchPermitAfterDeath();
    closures();
    hands(truth.handBits());
    scanned = false;
    beats = 0;
    energyRequests = 0;
    verdicts += state == RigState.SHOWING && stateBefore != RigState.SHOWING ? 1 : 0;
    stateBefore = state;
    trippedBefore = tripped;
    if (fireRose) {
      record.fired(windowIntent);
    }
    if (pulseBegan && firing) {
      record.pulsed(windowIntent);
    }
  }

  /** Of a rig that has other sources than a bank. */
  private void lookAtOthers(RigTruth truth) {
    feeding = truth.feeding();
    level = truth.level();
    full = truth.full();
    if (rig.jig().isPresent()) {
      motorFed = truth.motorFed();
      carriageBefore = carriageMetres;
      carriageMetres = truth.carriageMetres();
      record.carriageAt(carriageMetres);
    }
  }

  private void closures() {
    if ((contacts & Bits.LID_A) == 0) {
      lidAClosedFromMs = ms;
    }
    if ((contacts & Bits.LID_B) == 0) {
      lidBClosedFromMs = ms;
    }
    if ((contacts & Bits.STOP_LOOP) == 0) {
      stopClosedFromMs = ms;
    }
  }

  private void hands(int now) {
    int changed = now ^ hands;
    hands = now;
    if ((changed & Bits.ARM_KEY) != 0) {
      if ((now & Bits.ARM_KEY) != 0) {
        keyOnAtMs = ms;
      } else {
        keyOffAtMs = ms;
      }
    }
    if ((changed & now & Bits.START_PEDAL) != 0) {
      pedalAtMs = ms;
    }
  }

  /** Whether a magnet lies in the nest, whatever its contact says. */
  boolean seated() {
    return (hands & Bits.WORK_SEAT) != 0;
  }

  /** How often a verdict has been shown. */
  int verdicts() {
    return verdicts;
  }

  /** Whether the key is on in a person's hand, whatever its contact says. */
  boolean keyOn() {
    return keyOnAtMs > keyOffAtMs;
  }

  /** A fault stands in this millisecond. */
  void stands(Happening happening) {
    stoodAtMs[index(happening.kind(), happening.onIndex())] = ms;
  }

  /** A fault comes or goes. */
  void edge(Happening happening) {
    edgeAtMs[index(happening.kind(), happening.onIndex())] = ms;
    stands(happening);
  }

  private static int index(HappeningKind kind, int onIndex) {
    return kind.ordinal() * HappeningKind.ON_MAX + onIndex;
  }

  /** Whether this fault stands, or stood within this time. */
  boolean stood(HappeningKind kind, String on, long withinMs) {
    return ms - stoodAtMs[index(kind, kind.on().indexOf(on))] <= withinMs;
  }

  /** Whether a fault of this kind stands, or stood within this time, on anything. */
  boolean stood(HappeningKind kind, long withinMs) {
    for (int on = 0; on < kind.on().size(); on++) {
      if (ms - stoodAtMs[index(kind, on)] <= withinMs) {
        return true;
      }
    }
    return false;
  }

  /** Whether this fault came or went within this time. */
  boolean changed(HappeningKind kind, String on, long withinMs) {
    return ms - edgeAtMs[index(kind, kind.on().indexOf(on))] <= withinMs;
  }

  /** Whether the armature, weld or drive of this relay stands wrong, or did within this time. */
  boolean relayBroken(String relay, String output, long withinMs) {
    return stood(HappeningKind.RELAY_PULLED, relay, withinMs)
        || stood(HappeningKind.RELAY_RELEASED, relay, withinMs)
        || stood(HappeningKind.RELAY_WELDED, relay, withinMs)
        || (!output.isEmpty()
            && (stood(HappeningKind.OUTPUT_HIGH, output, withinMs)
                || stood(HappeningKind.OUTPUT_LOW, output, withinMs)));
  }

  /** Whether a relay of the coil's ladder or range stands wrong, or did within this time. */
  boolean ladderBroken(long withinMs) {
    boolean broken = relayBroken("full", "coil full", withinMs);
    for (int i = 0; i < LADDER.size(); i++) {
      broken |= relayBroken(LADDER.get(i), LADDER.get(i), withinMs);
    }
    return broken;
  }

  /** Whether this relay began or ceased to stand wrong within this time. */
  boolean relayJolted(String relay, String output, long withinMs) {
    return changed(HappeningKind.RELAY_PULLED, relay, withinMs)
        || changed(HappeningKind.RELAY_RELEASED, relay, withinMs)
        || changed(HappeningKind.RELAY_WELDED, relay, withinMs)
        || (!output.isEmpty()
            && (changed(HappeningKind.OUTPUT_HIGH, output, withinMs)
                || changed(HappeningKind.OUTPUT_LOW, output, withinMs)));
  }
}
