package lodestep.sim;

import lodestep.config.CoilConfig;
import lodestep.config.SupplyConfig;

/**
 * Bench supply, feed relay, ladder, switch, freewheel diode and a many-turn coil.
 *
 * <p>The supply holds its voltage until the current reaches its limit, and then the current. Behind
 * the feed relay stand a small capacitor and the discharge resistor, so the feed dies away when the
 * relay opens. With the switch closed L di/dt = V − R i, solved exactly in each sub-step: an
 * exponential towards V / R (the textbook's series circuit of R and L). Confined to its plant.
 */
final class SwitchedCircuit extends PowerCircuit {

  /** Across the feed, against the wires' inductance; configuration. */
  private static final double FEED_FARADS = 100e-6;

  private static final double STEP_SECONDS = 1e-3;

  private final SupplyConfig supply;
  private final double feedKept;
  private double feedVolts;

  SwitchedCircuit(SupplyConfig supply, CoilConfig coil, FaultState faults) {
    super(coil, faults);
    this.supply = supply;
    this.feedKept = Math.exp(-STEP_SECONDS / (supply.dischargeOhms() * FEED_FARADS));
  }

  @Override
  void faultsChanged() {
    // Every figure is worked out in the step itself.
  }

  @Override
  boolean canStart(Switching switching) {
    return fed(switching) && supplyVolts() > DEAD_VOLTS;
  }

  @Override
  boolean fed(Switching switching) {
    return switching.feed && (switching.full || switching.level != 0);
  }

  @Override
  boolean takesUpAgain() {
    return true;
  }

  @Override
  void drive(Switching switching, CoilConfig coil) {
    double ohms = coilOhms + (switching.full ? 0.0 : supply.seriesOhms(switching.level));
    double rest = supplyVolts() / ohms;
    double limit = supply.currentLimit().amps();
    double decay = Math.exp(-ohms * SUBSTEP_SECONDS / henries);
    for (int left = SUBSTEPS; left > 0; left--) {
      double before = amps;
      double free = rest + (before - rest) * decay;
      amps = before <= limit ? Math.min(free, limit) : Math.max(free, limit);
      double slope = (amps - before) / SUBSTEP_SECONDS;
      note(before, slope, slope);
    }
  }

  @Override
  void feed(Switching switching) {
    feedVolts = switching.feed ? supplyVolts() : feedVolts * feedKept;
  }

  private double supplyVolts() {
    return Double.isNaN(faults.supplyVolts) ? supply.voltage().volts() : faults.supplyVolts;
  }

  @Override
  double bankVolts() {
    return feedVolts;
  }
}
