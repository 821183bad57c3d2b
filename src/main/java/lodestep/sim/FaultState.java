package lodestep.sim;

import java.util.List;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * The faults that stand at this moment, as plain figures the plant and the twins look at every
 * millisecond. Changes only at the edges of the {@link FaultPlan}. Confined to its rig.
 */
final class FaultState {

  private final FaultPlan plan;
  private long nextEdgeNs;

  int relaysStuckPulled;
  int relaysStuckReleased;
  int relaysWelded;
  int contactsStuckClosed;
  int contactsStuckOpen;
  int wiresOpenAtHost;
  int wiresOpenAtHead;
  int inputsFlipped;
  int outputsStuckHigh;
  int outputsStuckLow;
  boolean pulseNoise;
  boolean headSilent;
  boolean headHung;
  boolean headDown;
  boolean cablePulled;
  double linesLostFraction;
  boolean gaugeFrozen;
  double gaugeGain;
  double magnetWarmKelvin;
  Fault.CoilSensor.Way coilSensor;
  double bankSenseGain;
  double bankLeakOhms;
  double bankReturns;
  double supplyVolts;
  boolean bleedPathOpen;
  double capacitanceFactor;
  double inductanceFactor;
  boolean switchShorted;
  boolean switchOpen;
  boolean diodeMissing;
  boolean thermostatOpen;
  boolean windowStuck;
  boolean timerDead;
  boolean hostPaused;
  boolean jigStalled;
  double jigStepsLostFraction;
  boolean jigReversed;
  boolean jigHomeStuckClosed;
  boolean jigHomeOpen;
  boolean jigFarStuckClosed;
  boolean jigFarOpen;
  boolean jigHomeFlickers;
  boolean jigFarFlickers;
  boolean jigRunsOn;
  boolean jigMagnetLost;

  FaultState(FaultPlan plan) {
    this.plan = plan;
    this.coilSensor = Fault.CoilSensor.Way.WORKS;
    heal();
    // The first step, at whatever time, looks at the plan.
    this.nextEdgeNs = Long.MIN_VALUE;
  }

  /**
   * Takes up what stands at this time.
   *
   * @return whether anything may have changed
   */
  boolean advance(long nowNs) {
    if (nowNs < nextEdgeNs) {
      return false;
    }
    heal();
    nextEdgeNs = Long.MAX_VALUE;
    for (FaultPlan.Timed timed : plan.faults()) {
      if (nowNs < timed.fromNs()) {
        nextEdgeNs = Math.min(nextEdgeNs, timed.fromNs());
      } else if (nowNs < timed.untilNs()) {
        nextEdgeNs = Math.min(nextEdgeNs, timed.untilNs());
        timed.fault().raise(this);
      }
    }
    return true;
  }

  private void heal() {
    relaysStuckPulled = 0;
    relaysStuckReleased = 0;
    relaysWelded = 0;
    contactsStuckClosed = 0;
    contactsStuckOpen = 0;
    wiresOpenAtHost = 0;
    wiresOpenAtHead = 0;
    inputsFlipped = 0;
    outputsStuckHigh = 0;
    outputsStuckLow = 0;
    pulseNoise = false;
    headSilent = false;
    headHung = false;
    headDown = false;
    cablePulled = false;
    linesLostFraction = 0.0;
    gaugeFrozen = false;
    gaugeGain = 1.0;
    magnetWarmKelvin = 0.0;
    coilSensor = Fault.CoilSensor.Way.WORKS;
    bankSenseGain = 1.0;
    bankLeakOhms = Double.POSITIVE_INFINITY;
    bankReturns = 0.0;
    supplyVolts = Double.NaN;
    bleedPathOpen = false;
    capacitanceFactor = 1.0;
    inductanceFactor = 1.0;
    switchShorted = false;
    switchOpen = false;
    diodeMissing = false;
    thermostatOpen = false;
    windowStuck = false;
    timerDead = false;
    hostPaused = false;
    healJig();
  }

  private void healJig() {
    jigStalled = false;
    jigStepsLostFraction = 0.0;
    jigReversed = false;
    jigHomeStuckClosed = false;
    jigHomeOpen = false;
    jigFarStuckClosed = false;
    jigFarOpen = false;
    jigHomeFlickers = false;
    jigFarFlickers = false;
    jigRunsOn = false;
    jigMagnetLost = false;
  }

  /** Turns of the coil that are left, over those it had. */
  double turnsFactor() {
    return Math.sqrt(inductanceFactor);
  }

  /** The bit of an input line in {@link Contacts#closedBits}. */
  static int bit(InputLine line) {
    return Contacts.of(List.of(line), 0L).closedBits();
  }

  /** The bit of an output line in {@link Outputs#highBits}. */
  static int bit(OutputLine line) {
    return Outputs.high(line).highBits();
  }
}
