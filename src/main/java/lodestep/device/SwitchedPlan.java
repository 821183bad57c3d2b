package lodestep.device;

import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.config.SupplyConfig;
import lodestep.port.ActEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;

/**
 * What stays the same through one pulse of a switched coil.
 *
 * @param level of the ladder; 0 for the charging range, in which it is bridged
 * @param proofLevel at which the switch is shown to be open before the feed is put on for the pulse
 */
public record SwitchedPlan(
    Order order,
    int level,
    int proofLevel,
    long intentNumber,
    double expectedPeakAmps,
    CoilConfig coil,
    SupplyConfig supply,
    Limits limits)
    implements PulsePlan {

  /** The feed's voltage may read this much more than the supply's. */
  private static final double HIGHEST_FRACTION = 1.04;

  private static final double MILLI = 1e3;

  /** Whether the ladder is bridged: the charging range. */
  public boolean full() {
    return level == 0;
  }

  @Override
  public Outputs relays() {
    return ladder(level).with(OutputLine.COIL_FULL, full());
  }

  @Override
  public Outputs holding() {
    return relays().and(OutputLine.COIL_ON);
  }

  @Override
  public Outputs preparing() {
    return ladder(proofLevel);
  }

  private Outputs ladder(int closed) {
    Outputs outputs = Outputs.ALL_LOW.with(OutputLine.COIL_REVERSE, !order.drivesNorth());
    for (int index = 0; index < OutputLine.LADDER.size(); index++) {
      outputs = outputs.with(OutputLine.LADDER.get(index), (closed >> index & 1) != 0);
    }
    return outputs;
  }

  @Override
  public PulseState prepare(long nowNs) {
    return new FeedState.SetProof(this, nowNs, nowNs);
  }

  @Override
  public int highestMilliVolts() {
    return (int) Math.round(supply.voltage().milliVolts() * HIGHEST_FRACTION);
  }

  @Override
  public long fireForNs() {
    return supply.onTimeNs();
  }

  @Override
  public double secondsToMeet(View view) {
    return 0;
  }

  /** The feed relay lets go without current; a current that stays is the interlocks' to cut. */
  @Override
  public Outputs afterGate(View view) {
    boolean dead =
        view.status().isPresent()
            && Math.abs(view.status().get().frame().coilMilliAmps())
                <= limits.currentZero().amps() * MILLI;
    return dead ? relays() : holding();
  }

  @Override
  public String answer() {
    return full() ? "charging" : "ladder";
  }

  @Override
  public ActEvent.Intent intent() {
    return new ActEvent.SwitchedPulseIntended(
        order.magnet(),
        order.attempt(),
        order.ordinal(),
        order.purpose(),
        order.drivesNorth(),
        full(),
        level,
        supply.onTimeNs() / 1000,
        supply.voltage().milliVolts(),
        Math.round(order.field().amperesPerMetre()),
        Math.round(expectedPeakAmps * MILLI),
        coil.name());
  }
}
