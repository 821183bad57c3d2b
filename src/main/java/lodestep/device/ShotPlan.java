package lodestep.device;

import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.port.ActEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;

/**
 * What stays the same through one shot of the bank.
 *
 * @param order what it is for
 * @param pulse what is asked of the coil
 * @param intentNumber the ledger number of its intent
 * @param expectedPeakAmps peak current expected, &gt; 0; a tenth of it is the least that counts as
 *     delivered
 */
public record ShotPlan(
    Order order,
    Pulse pulse,
    long intentNumber,
    double expectedPeakAmps,
    CoilConfig coil,
    BankConfig bank,
    Limits limits)
    implements PulsePlan {

  private static final double MILLI = 1e3;

  @Override
  public Outputs relays() {
    return Outputs.ALL_LOW
        .with(OutputLine.COIL_REVERSE, !pulse.drivesNorth())
        .with(OutputLine.COIL_FULL, pulse.full());
  }

  @Override
  public Outputs holding() {
    return relays().and(OutputLine.BANK_HOLD);
  }

  /** The relays as for a charge, nothing energised: the coil's whole path lies on the switch. */
  Outputs proving() {
    return Outputs.high(OutputLine.COIL_FULL).with(OutputLine.COIL_REVERSE, !order.chargesNorth());
  }

  @Override
  public Outputs preparing() {
    return relays();
  }

  @Override
  public PulseState prepare(long nowNs) {
    return new FillState.SetRelays(this, nowNs, nowNs);
  }

  @Override
  public int highestMilliVolts() {
    return pulse.highest().milliVolts();
  }

  @Override
  public long fireForNs() {
    return limits.fireForNs();
  }

  /** Until the bleeder has brought the bank to the asked voltage. */
  @Override
  public double secondsToMeet(View view) {
    double ratio = PulseSteps.bankMilliVolts(view) / (double) pulse.asked().milliVolts();
    return ratio <= 1 ? 0 : bank.capacitanceFarads() * bank.bleederOhms() * Math.log(ratio);
  }

  @Override
  public Outputs afterGate(View view) {
    return relays();
  }

  @Override
  public String answer() {
    return pulse.range();
  }

  @Override
  public ActEvent.Intent intent() {
    return new ActEvent.PulseIntended(
        order.magnet(),
        order.attempt(),
        order.ordinal(),
        order.purpose(),
        pulse.drivesNorth(),
        pulse.full(),
        pulse.asked().milliVolts(),
        pulse.highest().milliVolts(),
        Math.round(order.field().amperesPerMetre()),
        Math.round(expectedPeakAmps * MILLI),
        coil.name());
  }
}
