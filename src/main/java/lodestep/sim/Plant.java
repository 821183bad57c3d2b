package lodestep.sim;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * The physical rig: hard-wired chain, relays, power circuit, coil heat, and the magnet in the nest,
 * in steps of one millisecond.
 *
 * <p>The chain is stop loop, both lids, the coil's thermostat and the over-voltage comparator in
 * series; with the permit relay behind them it feeds fill relay, hold relay and gate supply with no
 * software in between; on a switched coil it feeds the feed relay instead of the first two. Winding
 * and leads are one lump of heat that cools to the room. Confined to its rig.
 */
public final class Plant {

  /** Flux density of the room along the gauge, in tesla; of the order of the earth's field. */
  static final double BACKGROUND_TESLA = 40e-6;

  /** Part of the coil's field at the work that the gauge sees; configuration. */
  private static final double COIL_FIELD_AT_GAUGE_FRACTION = 0.35;

  /** Part of the coil's rise above the room that reaches magnet and gauge; configuration. */
  private static final double RISE_AT_GAUGE_FRACTION = 0.04;

  /** In which the rise of a rod of some grams in its nest falls to 1/e; configuration. */
  private static final double MAGNET_COOLS_SECONDS = 90;

  static final double ROOM_KELVIN = Temperature.ofDegC(21.5).kelvin();

  /** Magnetic constant, CODATA 2018 to the digits that matter here, in T m/A. */
  private static final double MU_0 = 1.256637e-6;

  /** The thermostat opens this far above the highest temperature of use, and closes below. */
  private static final double THERMOSTAT_ABOVE_KELVIN = 15.0;

  private static final double THERMOSTAT_HYSTERESIS_KELVIN = 20.0;

  /** The comparator opens at five per cent over the highest voltage of any bank. */
  private static final double COMPARATOR_OPENS_VOLTS = 1.05 * BankConfig.VOLTS_CAP;

  private static final double STEP_SECONDS = 1e-3;

  private static final int JIG = FaultState.bit(OutputLine.JIG_ENABLE);
  private static final int FILL = FaultState.bit(OutputLine.BANK_FILL);
  private static final int HOLD = FaultState.bit(OutputLine.BANK_HOLD);
  private static final int REVERSE = FaultState.bit(OutputLine.COIL_REVERSE);
  private static final int FULL = FaultState.bit(OutputLine.COIL_FULL);
  private static final int FIRE = FaultState.bit(OutputLine.COIL_FIRE);
  private static final int CHAIN_CONTACTS =
      FaultState.bit(InputLine.STOP_LOOP)
          | FaultState.bit(InputLine.LID_A)
          | FaultState.bit(InputLine.LID_B);
  private static final int FILL_CONTACT = FaultState.bit(InputLine.FILL_CONTACT);
  private static final int BLEED_CONTACT = FaultState.bit(InputLine.BLEED_CONTACT);
  private static final int REVERSE_CONTACT = FaultState.bit(InputLine.REVERSE_CONTACT);
  private static final int FULL_CONTACT = FaultState.bit(InputLine.FULL_CONTACT);

  private final RigConfig config;
  private final Controls controls;
  private final FaultState faults;
  private final Relay fill;
  private final Relay hold;
  private final Relay reverse;
  private final Relay full;
  private final Relay permit;
  private final Optional<Carriage> carriage;
  private final Switching switching = new Switching();
  private final PowerCircuit circuit;
  private final Optional<SwitchedFeed> feed;
  private final Map<String, Double> restingCoilsKelvin = new HashMap<>();

  private NestConfig nest;
  private CoilConfig coil;
  private double coolingPerStep;
  private double coilKelvin = ROOM_KELVIN;
  private boolean thermostatClosed = true;
  private boolean comparatorClosed = true;
  private boolean chainClosed;
  private boolean permitFed;
  private boolean windowOpen;
  private int outputBits;
  private int contactBits;
  private long appliedPulses;
  private boolean jigFed;
  private long warmSinceNs = VirtualRig.START_NS;
  private final OpposedWork opposed = new OpposedWork();

  Plant(RigConfig config, String nestName, Controls controls, Drawn drawn) {
    this.config = config;
    this.controls = controls;
    this.faults = drawn.faults();
    this.fill = new Relay(RelayName.FILL.bit(), drawn.random().split());
    this.hold = new Relay(RelayName.HOLD.bit(), drawn.random().split());
    this.reverse = new Relay(RelayName.REVERSE.bit(), drawn.random().split());
    this.full = new Relay(RelayName.FULL.bit(), drawn.random().split());
    this.permit = new Relay(RelayName.PERMIT.bit(), drawn.random().split());
    this.nest = config.nest(nestName);
    this.coil = HeatLump.around(nest, config);
    this.circuit =
        config
            .supply()
            .<PowerCircuit>map(supply -> new SwitchedCircuit(supply, coil, faults))
            .orElseGet(() -> new PulseCircuit(config.bank(), coil, faults));
    this.feed = config.supply().map(supply -> new SwitchedFeed(supply, drawn.random()));
    this.coolingPerStep = coolingPerStep();
    this.carriage =
        config
            .jig()
            .map(
                jig ->
                    new Carriage(
                        jig, config.name().hashCode(), new Drawn(drawn.random().split(), faults)));
    watchContacts();
  }

  /** Where a part of the rig draws its chances and its faults from. */
  record Drawn(SplittableRandom random, FaultState faults) {}

  private double coolingPerStep() {
    return -Math.expm1(-STEP_SECONDS / (coil.heatJoulesPerKelvin() * coil.coolingKelvinPerWatt()));
  }

  /**
   * A hand changes the nest, and with it coil and stand-off. A coil that is put aside keeps its
   * heat: it is put back as it was.
   *
   * @throws IllegalArgumentException if the rig has no such nest
   * @throws IllegalStateException while the coil carries current
   */
  public void mount(String nestName) {
    mount(config.nest(nestName));
  }

  /**
   * The same with a nest that is none of the rig's own, as what holds a pickup at the gauge.
   *
   * @throws IllegalStateException while the coil carries current
   */
  public void mount(NestConfig other) {
    CoilConfig otherCoil = HeatLump.around(other, config);
    circuit.connect(otherCoil);
    restingCoilsKelvin.put(coil.name(), coilKelvin);
    nest = other;
    coil = otherCoil;
    coilKelvin = restingCoilsKelvin.getOrDefault(coil.name(), ROOM_KELVIN);
    coolingPerStep = coolingPerStep();
  }

  /** Name of the nest that is mounted. */
  public String nestName() {
    return nest.name();
  }

  /** The levels that really stand at the outputs. */
  void drive(Outputs outputs) {
    outputBits = outputs.highBits();
  }

  /** The head feeds, or lets go of, the permit relay. */
  void feedPermit(boolean fed) {
    permitFed = fed;
  }

  /** The head opens, or closes, the fire window. */
  void openWindow(boolean open) {
    windowOpen = open;
  }

  /** One millisecond. */
  void step(long nowNs, boolean faultsChanged) {
    if (faultsChanged) {
      circuit.faultsChanged();
    }
    chainClosed = chain();
    permit.step(permitFed, faults);
    boolean energy = chainClosed && permit.makeClosed();
    fill.step(energy && (outputBits & FILL) != 0, faults);
    hold.step(energy && (outputBits & HOLD) != 0, faults);
    reverse.step((outputBits & REVERSE) != 0, faults);
    full.step((outputBits & FULL) != 0, faults);
    switching.fill = fill.makeClosed();
    switching.bleed = hold.breakClosed();
    switching.full = full.makeClosed();
    switching.fire = energy && (windowOpen || faults.windowStuck) && (outputBits & FIRE) != 0;
    feed.ifPresent(
        switched -> switched.step(energy, switching.fire, outputBits, faults, switching));
    switching.direction = reverse.makeClosed() ? -1 : reverse.breakClosed() ? 1 : 0;
    jigFed = energy && (outputBits & JIG) != 0;
    circuit.step(switching, coilKelvin);
    heat();
    watchContacts();
    magnetise();
    carriage.ifPresent(jig -> jig.byItself(jigFed));
    opposed.step(carriage, controls.seated());
  }

  /** The head makes a step of the jig's motor; without its supply nothing turns. */
  void stepJig(boolean towardsWork) {
    if (jigFed) {
      carriage.orElseThrow().step(towardsWork);
    }
  }

  private boolean chain() {
    if (circuit.bankVolts() > COMPARATOR_OPENS_VOLTS) {
      comparatorClosed = false;
    } else if (circuit.bankVolts() < BankConfig.VOLTS_CAP) {
      comparatorClosed = true;
    }
    boolean contacts = (physicalContacts() & CHAIN_CONTACTS) == CHAIN_CONTACTS;
    return contacts && thermostatClosed && comparatorClosed && !faults.thermostatOpen;
  }

  private int physicalContacts() {
    return (controls.closedBits() | faults.contactsStuckClosed) & ~faults.contactsStuckOpen;
  }

  private void heat() {
    coilKelvin -= (coilKelvin - ROOM_KELVIN) * coolingPerStep;
    coilKelvin += circuit.stepHeatJoules() / coil.heatJoulesPerKelvin();
    if (coil.name().isEmpty() && jigFed) {
      coilKelvin += HeatLump.MOTOR_WATTS * STEP_SECONDS / coil.heatJoulesPerKelvin();
    }
    double opensKelvin = coil.temperatureMax().kelvin() + THERMOSTAT_ABOVE_KELVIN;
    if (coilKelvin > opensKelvin) {
      thermostatClosed = false;
    } else if (coilKelvin < opensKelvin - THERMOSTAT_HYSTERESIS_KELVIN) {
      thermostatClosed = true;
    }
  }

  private void watchContacts() {
    int bits = controls.closedBits();
    if (!config.coils().isEmpty()) {
      bits |= mirrorContacts();
    }
    contactBits = (bits | faults.contactsStuckClosed) & ~faults.contactsStuckOpen;
  }

  private int mirrorContacts() {
    int bits = fill.breakClosed() ? FILL_CONTACT : 0;
    bits |= feed.map(SwitchedFeed::released).orElse(hold.breakClosed()) ? BLEED_CONTACT : 0;
    bits |= reverse.makeClosed() ? REVERSE_CONTACT : 0;
    bits |= full.makeClosed() ? FULL_CONTACT : 0;
    return bits;
  }

  private void magnetise() {
    if (circuit.pulses() != appliedPulses && !circuit.conducting()) {
      appliedPulses = circuit.pulses();
      opposed.forget();
      controls
          .seated()
          .ifPresent(
              magnet ->
                  magnet.applyPulse(
                      circuit.fieldPerAmp() * circuit.peakForwardAmps(),
                      circuit.fieldPerAmp() * circuit.peakReverseAmps(),
                      circuit.forwardFirst()));
    }
  }

  /** Flux density at the gauge along its axis, in tesla. */
  double gaugeTesla(long nowNs) {
    double tesla = BACKGROUND_TESLA;
    if (circuit.conducting()) {
      tesla += MU_0 * circuit.fieldPerAmp() * circuit.coilAmps() * COIL_FIELD_AT_GAUGE_FRACTION;
    }
    Optional<SeatedMagnet> magnet = controls.seated();
    if (magnet.isPresent()) {
      tesla += magnet.get().faceFieldTesla(nest.standOff().metres(), magnetKelvin(nowNs), nowNs);
    }
    Optional<HeldMagnet> held = controls.held();
    if (held.isPresent()) {
      tesla += held.get().atGauge(nest.standOff().metres());
    }
    if (carriage.isPresent()) {
      tesla += carriage.get().atGauge(nest.standOff().metres());
    }
    return tesla;
  }

  /**
   * Flux density of the magnet in the nest alone, at the gauge, in tesla; not a number with none.
   */
  double magnetTesla(long nowNs) {
    double standOff = nest.standOff().metres();
    return controls
        .seated()
        .map(magnet -> magnet.faceFieldTesla(standOff, gaugeKelvin(), nowNs))
        .orElse(Double.NaN);
  }

  /** Temperature of what lies in the nest: the gauge's, but for what it brought with it. */
  private double magnetKelvin(long nowNs) {
    if (faults.magnetWarmKelvin == 0) {
      warmSinceNs = nowNs;
      return gaugeKelvin();
    }
    double cooled = Math.exp(-(nowNs - warmSinceNs) * 1e-9 / MAGNET_COOLS_SECONDS);
    return gaugeKelvin() + faults.magnetWarmKelvin * cooled;
  }

  /** Temperature of magnet and gauge, in kelvin. */
  double gaugeKelvin() {
    return ROOM_KELVIN + RISE_AT_GAUGE_FRACTION * (coilKelvin - ROOM_KELVIN);
  }

  /** Temperature of the coil. */
  public Temperature coilTemperature() {
    return new Temperature(coilKelvin);
  }

  /** Warms the mounted coil at once: a start for tests. */
  void warmCoil(Temperature temperature) {
    coilKelvin = temperature.kelvin();
  }

  /** Whether the coil carries current. */
  public boolean coilCarries() {
    return circuit.conducting();
  }

  /** True current of the coil, in amperes, without sign. */
  public double coilAmperes() {
    return Math.abs(circuit.coilAmps());
  }

  /** True voltage of the bank, or of a switched coil's feed. */
  public Voltage bankVoltage() {
    return new Voltage(circuit.bankVolts());
  }

  double coilKelvin() {
    return coilKelvin;
  }

  PowerCircuit circuit() {
    return circuit;
  }

  CoilConfig coil() {
    return coil;
  }

  /** How the power circuit is switched at this moment. */
  Switching switching() {
    return switching;
  }

  boolean windowOpen() {
    return windowOpen;
  }

  /** Every contact as it really stands, one bit each as in {@link lodestep.port.Contacts}. */
  int contactBits() {
    return contactBits;
  }

  boolean chainClosed() {
    return chainClosed;
  }

  /** The jig's carriage, if the rig has one. */
  Optional<Carriage> carriage() {
    return carriage;
  }

  /** Whether the chain feeds the jig's motor, and its driver is on. */
  boolean jigFed() {
    return jigFed;
  }

  boolean jigLineHigh() {
    return (outputBits & JIG) != 0;
  }

  boolean fireLineHigh() {
    return (outputBits & FIRE) != 0;
  }

  /** Whether the permit relay's contact is closed. */
  boolean permitClosed() {
    return permit.makeClosed();
  }
}
