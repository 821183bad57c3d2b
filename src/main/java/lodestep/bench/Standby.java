package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.dial.PlannerMode;
import lodestep.dial.RigMemory;
import lodestep.measure.GaugeCalibration;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.port.View;

/**
 * A rig that waits for work: nothing is driven but the buzzer while a trip stands. What the last
 * run of the program left open is closed first, with the head's word on its pulses where it has
 * one. Pure and total.
 *
 * @param first what comes before it rests: the recalling of pulses, then the prologue
 */
public record Standby(Optional<BatchJob> first) implements Job {

  /** Waits, once what the ledger left open is closed. */
  public static Standby begin(LedgerStart start, GaugeCalibration calibration) {
    return new Standby(
        Optional.of(BatchJob.begin(noBatch(calibration), start.prologue(), start.recall())));
  }

  /** The recalling knows a batch and asks nothing of it. */
  private static Batch noBatch(GaugeCalibration calibration) {
    return new Batch(
        "",
        "",
        "",
        0,
        List.of(),
        PlannerMode.CURVE,
        RigMemory.none(),
        Optional.empty(),
        calibration,
        0,
        NestSeatings.USUAL);
  }

  @Override
  public JobStep step(View view) {
    Outputs wanted = Steps.resting(view);
    List<LedgerEvent> events = new ArrayList<>();
    if (first.isPresent() && first.get() instanceof Recalling recalling) {
      JobStep step = recalling.step(view);
      return new JobStep(
          new Standby(Optional.of((BatchJob) step.next())),
          wanted,
          false,
          step.events(),
          step.requests(),
          Optional.empty());
    }
    if (first.isPresent() && first.get() instanceof Opening opening) {
      events.addAll(opening.prologue());
    }
    events.addAll(Steps.asked(view));
    return Steps.to(new Standby(Optional.empty()), wanted, events);
  }

  @Override
  public boolean rests() {
    return first.isEmpty();
  }

  /** One short sentence: what happens now. */
  public String sentence() {
    return first.isEmpty() ? "nothing is under way" : "closing what the last run left open";
  }
}
