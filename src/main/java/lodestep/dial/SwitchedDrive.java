package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.config.SupplyConfig;
import lodestep.device.Act;
import lodestep.device.Carried;
import lodestep.device.Order;
import lodestep.device.PulseState;
import lodestep.device.SwitchedPlan;
import lodestep.port.ActEvent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;

/**
 * A many-turn coil on a bench supply: the levels of its ladder, and the charging range in which the
 * ladder is bridged. The current comes to rest within a few thousandths of a second and stays there
 * for the whole pulse, so a longer pulse is hotter and not stronger: every level has one peak.
 */
public record SwitchedDrive(CoilConfig coil, SupplyConfig supply) implements FieldSource {

  /** Several times what counts as no current, so that a shorted switch cannot hide. */
  private static final double PROOF_OVER_ZERO = 4;

  /** As of a pulse coil; the supply's current comes back to a few thousandths. */
  private static final Doubt DOUBT = new Doubt(0.03, 0.0007, 0.003);

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
    List<FieldStrength> rising = new ArrayList<>();
    for (int level = 1; level <= supply.levels(); level++) {
      rising.add(new FieldStrength(amps(level, now) * coil.fieldPerAmp()));
    }
    FieldStrength full = new FieldStrength(amps(0, now) * coil.fieldPerAmp());
    if (full.compareTo(rising.get(rising.size() - 1)) > 0) {
      rising.add(full);
    }
    return new Fields.Levels(rising);
  }

  @Override
  public Act begin(Order order, long intentNumber, RigNow now, Limits limits, long nowNs) {
    int level = level(order.field(), now);
    SwitchedPlan plan =
        new SwitchedPlan(
            order,
            level,
            proofLevel(now.coilTemperature(), limits),
            intentNumber,
            amps(level, now),
            coil,
            supply,
            limits);
    return PulseState.begin(plan, nowNs);
  }

  @Override
  public Doubt doubt(FieldStrength near, RigNow now) {
    return DOUBT;
  }

  @Override
  public Optional<Temperature> restAbove() {
    return Optional.of(Cooling.restAbove(coil));
  }

  @Override
  public Optional<Swing> swing(ActEvent.ActEnded ended) {
    return CoilDrive.swing(ended, coil);
  }

  /** {@inheritDoc} With the ladder in, its resistors and not the coil make the current. */
  @Override
  public Optional<Carried> carried(ActEvent.Intent intent, ActEvent.ActEnded ended) {
    boolean bridged = intent instanceof ActEvent.SwitchedPulseIntended pulse && pulse.full();
    return bridged && ended instanceof ActEvent.PulseEnded end
        ? CoilDrive.copper(end, coil)
            .map(winding -> supply.fullAmps(coil.ohmsAt(winding)))
            .flatMap(amps -> CoilDrive.carried((ActEvent.PulseIntent) intent, true, end, amps))
        : Optional.empty();
  }

  /** The level nearest to this field; 0 for the charging range. */
  private int level(FieldStrength field, RigNow now) {
    int nearest = 0;
    double least = distance(0, field, now);
    for (int level = 1; level <= supply.levels(); level++) {
      double distance = distance(level, field, now);
      if (distance < least) {
        nearest = level;
        least = distance;
      }
    }
    return nearest;
  }

  private double distance(int level, FieldStrength field, RigNow now) {
    return Math.abs(amps(level, now) * coil.fieldPerAmp() - field.amperesPerMetre());
  }

  /** The lowest level whose current no one could take for none. */
  private int proofLevel(Temperature coilTemperature, Limits limits) {
    double enough = PROOF_OVER_ZERO * limits.currentZero().amps();
    int level = 1;
    while (level < supply.levels() && supply.amps(level, coil.ohmsAt(coilTemperature)) < enough) {
      level++;
    }
    return level;
  }

  /** Current of a level with what the rig has taught, in amperes; level 0 is the charging range. */
  private double amps(int level, RigNow now) {
    double ohms = coil.ohmsAt(now.coilTemperature());
    return level == 0
        ? supply.fullAmps(ohms) * now.memory().ratio("charging")
        : supply.amps(level, ohms) * now.memory().ratio("ladder");
  }
}
