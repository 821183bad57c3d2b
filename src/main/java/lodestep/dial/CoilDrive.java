package lodestep.dial;

import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.device.Act;
import lodestep.device.Carried;
import lodestep.device.Order;
import lodestep.device.Outcome;
import lodestep.device.Pulse;
import lodestep.device.PulseState;
import lodestep.device.ShotPlan;
import lodestep.magnet.PulseCircuit;
import lodestep.port.ActEvent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * A pulse coil on the capacitor bank: from a wanted peak field to the bank voltage that gives it,
 * in either range, and back.
 */
public record CoilDrive(CoilConfig coil, BankConfig bank) implements FieldSource {

  /** Field for an ampere as rig.toml tells it, by a search coil or reckoned from the winding. */
  private static final double SCALE = 0.03;

  /** What the head's current meter tells from pulse to pulse. */
  private static final double TOLD = 0.0007;

  /** A pulse against the one asked for; below some volts the meter's own floor is more. */
  private static final double DELIVERED = 0.002;

  /** Below this the zero of a current meter, some tens of milliamperes, is too much of it. */
  private static final double TELLS_AMPS = 1.0;

  /** No bench is colder, and no coil that is still fired this much hotter than its limit. */
  private static final double COLDEST_DEG_C = -20;

  private static final double OVER_KELVIN = 20;

  private static final double METER_FLOOR_VOLTS = 0.005;

  /** The measured voltage may stand above the asked one by this part, and at least 10 mV. */
  private static final double HIGHEST_FRACTION = 0.002;

  private static final double HIGHEST_VOLTS = 0.010;

  /** Below this the meter's millivolt is more than a thousandth. */
  private static final double METER_VOLTS = 0.5;

  /**
   * The shortest filling there is: relay drawn, one status line, relay let go. What it brings above
   * the asked voltage only the bleeder takes away, in half a minute and more.
   */
  private static final double SHORTEST_FILL_SECONDS = 0.030;

  @Override
  public String name() {
    return coil.name();
  }

  @Override
  public String noun() {
    return "coil";
  }

  @Override
  public Fields fields(RigNow now) {
    return new Fields.Continuous(
        new FieldStrength(leastVolts() * fieldPerVolt(false, now)), fieldMax(true, now));
  }

  @Override
  public Act begin(Order order, long intentNumber, RigNow now, Limits limits, long nowNs) {
    Pulse pulse = pulse(order.field(), order.drivesNorth(), now);
    double expectedAmps =
        expectedAmps(pulse, now.coilTemperature()) * now.memory().ratio(pulse.range());
    ShotPlan plan = new ShotPlan(order, pulse, intentNumber, expectedAmps, coil, bank, limits);
    return PulseState.begin(plan, nowNs);
  }

  @Override
  public Doubt doubt(FieldStrength near, RigNow now) {
    double floor = METER_FLOOR_VOLTS * fieldPerVolt(false, now) / near.amperesPerMetre();
    return new Doubt(SCALE, TOLD, Math.hypot(DELIVERED, floor));
  }

  @Override
  public Optional<Temperature> restAbove() {
    return Optional.of(Cooling.restAbove(coil));
  }

  @Override
  public Optional<Swing> swing(ActEvent.ActEnded ended) {
    return swing(ended, coil);
  }

  @Override
  public Optional<Carried> carried(ActEvent.Intent intent, ActEvent.ActEnded ended) {
    if (!(intent instanceof ActEvent.PulseIntended pulse)
        || !(ended instanceof ActEvent.PulseEnded end)) {
      return Optional.empty();
    }
    return copper(end, coil)
        .map(
            winding ->
                end.bankBeforeMilliVolts()
                    * 1e-3
                    * circuit(pulse.full(), winding).peakAmpsPerVolt())
        .flatMap(amps -> carried(pulse, pulse.full(), end, amps));
  }

  /** The copper's temperature in a pulse, where its sensor can be believed. */
  static Optional<Temperature> copper(ActEvent.PulseEnded ended, CoilConfig coil) {
    double degC = ended.coilCentiDegC() * 1e-2;
    return degC > COLDEST_DEG_C && degC < coil.temperatureMax().degC() + OVER_KELVIN
        ? Optional.of(Temperature.ofDegC(degC))
        : Optional.empty();
  }

  /**
   * The peak of a delivered pulse over what was expected of it.
   *
   * @param expectedAmps by the circuit's figures alone
   */
  static Optional<Carried> carried(
      ActEvent.PulseIntent intent, boolean full, ActEvent.PulseEnded ended, double expectedAmps) {
    long peak = intent.drivesNorth() ? ended.peakForwardMilliAmps() : ended.peakReverseMilliAmps();
    boolean tells =
        ended.outcome().equals(Outcome.DELIVERED.word()) && peak > 0 && expectedAmps > TELLS_AMPS;
    return tells
        ? Optional.of(new Carried(intent.coil(), full, peak * 1e-3 / expectedAmps))
        : Optional.empty();
  }

  /** The peaks that a pulse through this coil had, whatever fed it. */
  static Optional<Swing> swing(ActEvent.ActEnded ended, CoilConfig coil) {
    return ended instanceof ActEvent.PulseEnded pulse
        ? Optional.of(
            new Swing(
                fieldOf(pulse.peakForwardMilliAmps(), coil),
                fieldOf(pulse.peakReverseMilliAmps(), coil)))
        : Optional.empty();
  }

  /** The strongest field of the range with this coil temperature. */
  private FieldStrength fieldMax(boolean full, RigNow now) {
    return new FieldStrength(bank.voltageMax().volts() * fieldPerVolt(full, now));
  }

  /**
   * The pulse that gives this peak field, in the knock-down range if that reaches it.
   *
   * @param field &gt; 0; held to what the bank can give
   */
  Pulse pulse(FieldStrength field, boolean drivesNorth, RigNow now) {
    boolean full = field.compareTo(fieldMax(false, now)) > 0;
    double volts = field.amperesPerMetre() / fieldPerVolt(full, now);
    double asked = Math.max(leastVolts(), Math.min(bank.voltageMax().volts(), volts));
    double highest = asked + Math.max(HIGHEST_VOLTS, asked * HIGHEST_FRACTION);
    return new Pulse(drivesNorth, full, new Voltage(asked), new Voltage(highest));
  }

  /**
   * The lowest voltage worth asking for. A weaker pulse is asked at this one; the fields in
   * question are a few hundredths of a coercivity and move nothing.
   */
  private double leastVolts() {
    double voltsPerSecond =
        bank.supplyVoltage().volts() / (bank.fillOhms() * bank.capacitanceFarads());
    return Math.max(METER_VOLTS, voltsPerSecond * SHORTEST_FILL_SECONDS);
  }

  /** Peak current expected of a pulse by the circuit's figures alone, in amperes. */
  double expectedAmps(Pulse pulse, Temperature coilTemperature) {
    return pulse.asked().volts() * circuit(pulse.full(), coilTemperature).peakAmpsPerVolt();
  }

  private static FieldStrength fieldOf(long milliAmps, CoilConfig coil) {
    return new FieldStrength(milliAmps * 1e-3 * coil.fieldPerAmp());
  }

  private double fieldPerVolt(boolean full, RigNow now) {
    return circuit(full, now.coilTemperature()).peakAmpsPerVolt()
        * now.memory().ratio(Pulse.range(full))
        * coil.fieldPerAmp();
  }

  private PulseCircuit circuit(boolean full, Temperature coilTemperature) {
    double ohms = coil.ohmsAt(coilTemperature) + (full ? 0 : coil.seriesOhms());
    return new PulseCircuit(ohms, coil.inductanceHenries(), bank.capacitanceFarads());
  }
}
