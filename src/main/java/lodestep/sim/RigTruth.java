package lodestep.sim;

import lodestep.port.Contacts;
import lodestep.port.Outputs;

/**
 * What really stands on a virtual rig at this millisecond, whatever host and head believe. For
 * whoever judges them; neither of the two may look here. Plain figures, nothing is made for a
 * reading. Confined to the rig's thread.
 */
public final class RigTruth {

  private final Plant plant;
  private final VirtualLines lines;
  private final Controls controls;
  private final FaultState faults;

  RigTruth(Plant plant, VirtualLines lines, Controls controls, FaultState faults) {
    this.plant = plant;
    this.lines = lines;
    this.controls = controls;
    this.faults = faults;
  }

  /** Voltage of the bank, in volts. */
  public double bankVolts() {
    return plant.circuit().bankVolts();
  }

  /** Coil current, in amperes; positive drives the gauge's face north. */
  public double coilAmps() {
    return plant.circuit().coilAmps();
  }

  /** Temperature of the winding, in kelvin. */
  public double coilKelvin() {
    return plant.coilKelvin();
  }

  /** Whether a path carries, or may carry, coil current. */
  public boolean conducting() {
    return plant.circuit().conducting();
  }

  /** How many times current has begun to flow in the coil since the rig was switched on. */
  public long pulses() {
    return plant.circuit().pulses();
  }

  /** Whether the hard-wired chain up to the head's permit is closed. */
  public boolean chainClosed() {
    return plant.chainClosed();
  }

  /** Whether the contact of the head's permit relay is closed. */
  public boolean permitClosed() {
    return plant.permitClosed();
  }

  /** Whether the head's fire window is open. */
  public boolean windowOpen() {
    return plant.windowOpen();
  }

  /** Whether the supply is connected to the bank. */
  public boolean filling() {
    return plant.switching().fill;
  }

  /** Whether the bleed contact is closed. */
  public boolean bleeding() {
    return plant.switching().bleed;
  }

  /** Whether the switch's gate is fed. */
  public boolean firing() {
    return plant.switching().fire;
  }

  /** Where the changeover relay lies: 1 drives north, -1 south, 0 in between. */
  public int direction() {
    return plant.switching().direction;
  }

  /** The contacts as they really stand, one bit each as in {@link Contacts}. */
  public int contactBits() {
    return plant.contactBits();
  }

  /** What hands have closed, one bit each as in {@link Contacts}; a contact may lie about it. */
  public int handBits() {
    return controls.closedBits();
  }

  /** The levels at the host's outputs, one bit each as in {@link Outputs}. */
  public int outputBits() {
    return lines.driven().highBits();
  }

  /**
   * Flux density of the magnet in the nest at the gauge, in tesla, positive where that face is
   * north; not a number with nothing in the nest or current in the coil. Worked out at each call.
   */
  public double faceTesla(long nowNs) {
    return plant.circuit().conducting() ? Double.NaN : plant.magnetTesla(nowNs);
  }

  /** Largest current of the latest pulse that drives the face north, in amperes, &ge; 0. */
  public double peakForwardAmps() {
    return plant.circuit().peakForwardAmps();
  }

  /** Largest current of the latest pulse of the other sign, in amperes, &ge; 0. */
  public double peakReverseAmps() {
    return plant.circuit().peakReverseAmps();
  }

  /** Whether the supply is connected to a switched coil's feed. */
  public boolean feeding() {
    return plant.switching().feed;
  }

  /** Relays of the ladder that are closed, one bit each, that of the smallest step the lowest. */
  public int level() {
    return plant.switching().level;
  }

  /** Whether the range relay's contact is closed: series resistor or ladder bridged. */
  public boolean full() {
    return plant.switching().full;
  }

  /** Whether the jig's motor has its supply. */
  public boolean motorFed() {
    return plant.jigFed();
  }

  /** Where the jig's carriage really is, in metres from home; not a number without a jig. */
  public double carriageMetres() {
    return plant.carriage().isPresent() ? plant.carriage().get().positionMetres() : Double.NaN;
  }

  /** Whether a fault keeps the host's scans from running. */
  public boolean hostPaused() {
    return faults.hostPaused;
  }
}
