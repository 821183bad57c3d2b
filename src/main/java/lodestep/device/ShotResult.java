package lodestep.device;

import java.util.Optional;
import lodestep.port.LedgerEvent;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FieldStrength;

/**
 * How a shot ended.
 *
 * @param token the token used, or 0
 * @param report what the head measured, when it said so
 */
public record ShotResult(
    ShotPlan plan, Outcome outcome, int token, Optional<HeadFrame.PulseReport> report, String why)
    implements ActResult {

  private static final double MILLI = 1e-3;

  @Override
  public FieldStrength field() {
    return new FieldStrength(peakAmps() * plan.coil().fieldPerAmp());
  }

  @Override
  public Optional<Lesson> lesson() {
    return outcome == Outcome.DELIVERED
        ? Optional.of(new Lesson(plan.pulse().range(), peakAmps(), plan.expectedPeakAmps()))
        : Optional.empty();
  }

  @Override
  public LedgerEvent.ActEnded entry(View view) {
    long coilCentiDegC =
        view.status().map(status -> (long) status.frame().coilCentiDegC()).orElse(0L);
    return new LedgerEvent.PulseEnded(
        plan.intentNumber(),
        plan.order().magnet(),
        outcome.word(),
        token,
        report.map(HeadFrame.PulseReport::bootId).orElse(0),
        report.map(HeadFrame.PulseReport::bankBeforeMilliVolts).orElse(0),
        report.map(HeadFrame.PulseReport::bankAfterMilliVolts).orElse(0),
        report.map(HeadFrame.PulseReport::peakForwardMilliAmps).orElse(0),
        report.map(HeadFrame.PulseReport::peakReverseMilliAmps).orElse(0),
        report.map(HeadFrame.PulseReport::durationMicros).orElse(0),
        coilCentiDegC,
        why);
  }

  /** The measured peak of the pulse's own sign, in amperes; 0 without a report. */
  private double peakAmps() {
    return report
        .map(
            measured ->
                plan.pulse().drivesNorth()
                    ? measured.peakForwardMilliAmps()
                    : measured.peakReverseMilliAmps())
        .map(milliAmps -> milliAmps * MILLI)
        .orElse(0.0);
  }
}
