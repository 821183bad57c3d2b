package lodestep.device;

import java.util.Optional;
import lodestep.port.LedgerEvent;
import lodestep.port.StrokeEnded;
import lodestep.port.View;
import lodestep.quantity.FieldStrength;

/**
 * How a stroke ended.
 *
 * @param moved whether the driver was on
 * @param lowestMicroMetres the lowest the carriage was seen at, from home
 */
public record StrokeResult(
    StrokePlan plan, Outcome outcome, boolean moved, int lowestMicroMetres, String why)
    implements ActResult {

  @Override
  public FieldStrength field() {
    return moved ? plan.fieldAt(lowestMicroMetres) : new FieldStrength(0);
  }

  /** What a stroke teaches only the magnets tell; see the batch. */
  @Override
  public Optional<Lesson> lesson() {
    return Optional.empty();
  }

  @Override
  public LedgerEvent.ActEnded entry(View view) {
    return new StrokeEnded(
        plan.intentNumber(),
        plan.order().magnet(),
        outcome.word(),
        moved ? lowestMicroMetres : 0,
        moved ? plan.gapAt(lowestMicroMetres).microMetres() : 0,
        Math.round(field().amperesPerMetre()),
        plan.order().drivesNorth(),
        view.status().map(status -> (long) status.frame().bootId()).orElse(0L),
        why);
  }
}
