package lodestep.sim;

import lodestep.config.CoilConfig;

/**
 * What feeds the coil: the coil's current, the freewheel diode behind the switch, and the figures
 * of the latest pulse, in steps of one millisecond.
 *
 * <p>The diode stands across the two wires before the changeover: once they would swing below its
 * drop, or the switch opens, the coil's current runs down through it with L / R. Without the diode
 * the coil rings into the snubber across those wires when the switch opens. Confined to its plant.
 */
abstract class PowerCircuit {

  /** Short against every time constant of a pulse coil; peaks are refined inside it. */
  static final double SUBSTEP_SECONDS = 20e-6;

  static final int SUBSTEPS = 50;
  private static final int SUBSTEP_MICROS = 20;

  /** What the pulse report has room for; only a shorted switch conducts that long. */
  private static final int PULSE_MICROS_MAX = 9_999_999;

  /** Drop of the freewheel diode; a figure usual for a power diode, from memory. */
  static final double DIODE_VOLTS = 0.7;

  /** Snubber across the wires; sized to this rig's coils, configuration. */
  private static final double SNUBBER_FARADS = 4.7e-6;

  private static final double SNUBBER_OHMS = 4.7;

  /** Temperature coefficient of copper's resistance at 20 °C, per kelvin (IEC 60028). */
  static final double COPPER_PER_KELVIN = 3.93e-3;

  private static final double KELVIN_AT_20_DEG_C = 293.15;

  /** Current below which the path counts as dead once nothing drives it. */
  private static final double DEAD_AMPS = 1e-3;

  static final double DEAD_VOLTS = 0.05;

  /** The way the coil's current takes. */
  enum Path {
    NONE,
    FED,
    FREEWHEEL,
    RING
  }

  final FaultState faults;
  private CoilConfig coil;
  Path path = Path.NONE;
  double amps;
  double coilOhms;
  double henries;
  private double snubberVolts;
  private int direction;

  private long pulses;
  private double peakForwardAmps;
  private double peakReverseAmps;
  private boolean forwardFirst;
  private int pulseMicros;
  private double actionAmpsSquaredSeconds;
  private double stepActionAmpsSquaredSeconds;

  PowerCircuit(CoilConfig coil, FaultState faults) {
    this.coil = coil;
    this.faults = faults;
  }

  /** Another coil is on the wires; only while no current flows. */
  void connect(CoilConfig other) {
    if (path != Path.NONE) {
      throw new IllegalStateException("coil changed while it carries " + amps + " A");
    }
    coil = other;
  }

  /** Faults may have changed: time constants are worked out anew. */
  abstract void faultsChanged();

  /** One millisecond with this switching and this winding temperature. */
  void step(Switching switching, double coilKelvin) {
    stepActionAmpsSquaredSeconds = 0.0;
    boolean on = (switching.fire || faults.switchShorted) && !faults.switchOpen;
    if (path != Path.NONE || (on && switching.direction != 0 && canStart(switching))) {
      conduct(switching, coilKelvin, on);
    }
    feed(switching);
  }

  private void conduct(Switching switching, double coilKelvin, boolean on) {
    coilOhms =
        coil.resistanceOhms()
            * faults.turnsFactor()
            * (1 + COPPER_PER_KELVIN * (coilKelvin - KELVIN_AT_20_DEG_C));
    henries = coil.inductanceHenries() * faults.inductanceFactor;
    if (path == Path.NONE) {
      begin(switching.direction);
    }
    if (switching.direction != direction) {
      // A contact that opens under current draws an arc; the current is cut, not turned round.
      end();
      return;
    }
    choosePath(on && fed(switching));
    switch (path) {
      case FED -> drive(switching, coil);
      case FREEWHEEL -> freewheel(SUBSTEPS);
      case RING -> ring();
      case NONE -> throw new IllegalStateException("a path that conducts has an end");
    }
  }

  /** Whether the feed could drive a current if the switch were closed. */
  abstract boolean canStart(Switching switching);

  /** Whether the way to the feed is still closed; the bank is always on the wires. */
  abstract boolean fed(Switching switching);

  /** One millisecond of driven current, in sub-steps; each is noted. */
  abstract void drive(Switching switching, CoilConfig coil);

  /** One millisecond of whatever feeds, with or without coil current. */
  abstract void feed(Switching switching);

  /** Voltage of the feed as the head measures it, in volts. */
  abstract double bankVolts();

  private void begin(int throughDirection) {
    direction = throughDirection;
    pulses++;
    peakForwardAmps = 0.0;
    peakReverseAmps = 0.0;
    forwardFirst = throughDirection > 0;
    pulseMicros = 0;
    actionAmpsSquaredSeconds = 0.0;
    amps = 0.0;
    path = Path.FED;
  }

  private void choosePath(boolean on) {
    if (path == Path.FED && !on) {
      path = faults.diodeMissing ? Path.RING : Path.FREEWHEEL;
      snubberVolts = 0.0;
    } else if (path == Path.FREEWHEEL && on && takesUpAgain()) {
      path = Path.FED;
    }
  }

  /** Whether a feed that comes back drives the current again. */
  abstract boolean takesUpAgain();

  private void ring() {
    Rlc loop = new Rlc(coilOhms + SNUBBER_OHMS, henries, SNUBBER_FARADS);
    Rlc.Transition transition = loop.over(SUBSTEP_SECONDS);
    for (int left = SUBSTEPS; left > 0; left--) {
      double before = amps;
      double slopeBefore = (snubberVolts - loop.ohms() * before) / henries;
      amps = transition.current(before, snubberVolts);
      snubberVolts = transition.voltage(before, snubberVolts);
      note(before, slopeBefore, (snubberVolts - loop.ohms() * amps) / henries);
      if (dead(snubberVolts)) {
        end();
        return;
      }
    }
  }

  /** L di/dt = −(diode's drop) − R i, exactly, for this many sub-steps. */
  void freewheel(int substeps) {
    double decay = Math.exp(-coilOhms * SUBSTEP_SECONDS / henries);
    double pull = DIODE_VOLTS / coilOhms;
    for (int left = substeps; left > 0; left--) {
      double before = amps;
      double slopeBefore = -(DIODE_VOLTS + coilOhms * before) / henries;
      amps = Math.max(0.0, (before + pull) * decay - pull);
      note(before, slopeBefore, slopeBefore * decay);
      if (amps < DEAD_AMPS) {
        end();
        return;
      }
    }
  }

  boolean dead(double volts) {
    return Math.abs(amps) < DEAD_AMPS && Math.abs(volts) < DEAD_VOLTS;
  }

  void end() {
    amps = 0.0;
    path = Path.NONE;
  }

  void note(double before, double slopeBefore, double slopeAfter) {
    double action = 0.5 * (before * before + amps * amps) * SUBSTEP_SECONDS;
    actionAmpsSquaredSeconds += action;
    stepActionAmpsSquaredSeconds += action;
    pulseMicros = Math.min(PULSE_MICROS_MAX, pulseMicros + SUBSTEP_MICROS);
    double extreme = amps;
    if (slopeBefore * slopeAfter < 0) {
      extreme = turningPoint(before, slopeBefore, slopeAfter);
    }
    double signed = direction * extreme;
    if (peakForwardAmps < DEAD_AMPS && peakReverseAmps < DEAD_AMPS) {
      forwardFirst = signed > 0;
    }
    peakForwardAmps = Math.max(peakForwardAmps, signed);
    peakReverseAmps = Math.max(peakReverseAmps, -signed);
  }

  /** Value at the turning point inside the last sub-step, by the cubic through both ends. */
  private double turningPoint(double before, double slopeBefore, double slopeAfter) {
    double s = slopeBefore / (slopeBefore - slopeAfter);
    double h = SUBSTEP_SECONDS;
    double t = 1 - s;
    return (1 + 2 * s) * t * t * before
        + s * t * t * h * slopeBefore
        + s * s * (3 - 2 * s) * amps
        - s * s * t * h * slopeAfter;
  }

  /** Field strength at the work for one ampere, in A/m. */
  double fieldPerAmp() {
    return coil.fieldPerAmp() * faults.turnsFactor();
  }

  /** Coil current now, in amperes; positive drives the gauge's face north. */
  double coilAmps() {
    return direction * amps;
  }

  /** Whether a path carries, or may carry, coil current. */
  boolean conducting() {
    return path != Path.NONE;
  }

  /** How many pulses have begun since the start. */
  long pulses() {
    return pulses;
  }

  /** Largest current of the latest pulse that drives the face north, in amperes, &ge; 0. */
  double peakForwardAmps() {
    return peakForwardAmps;
  }

  /** Largest current of the latest pulse of the other sign, in amperes, &ge; 0. */
  double peakReverseAmps() {
    return peakReverseAmps;
  }

  /** Whether the current that drives north came first in the latest pulse. */
  boolean forwardFirst() {
    return forwardFirst;
  }

  /** From the first current of the latest pulse to its end, in microseconds. */
  int pulseMicros() {
    return pulseMicros;
  }

  /** Integral of the squared current over the latest pulse, in ampere squared seconds. */
  double actionAmpsSquaredSeconds() {
    return actionAmpsSquaredSeconds;
  }

  /** Heat left in the winding in the last step, in joules. */
  double stepHeatJoules() {
    return stepActionAmpsSquaredSeconds * coilOhms;
  }
}
