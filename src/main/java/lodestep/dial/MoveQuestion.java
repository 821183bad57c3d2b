package lodestep.dial;

import lodestep.port.PlanQuestion;
import lodestep.quantity.Temperature;

/**
 * Asks the planner for the next move.
 *
 * @param number rises with every question
 */
record MoveQuestion(
    long number,
    Work work,
    Progress progress,
    RigMemory memory,
    Zero zero,
    Temperature coilTemperature)
    implements PlanQuestion {

  @Override
  public MoveAnswer solve() {
    return new MoveAnswer(
        number, new Planner(work, zero, new RigNow(coilTemperature, memory)).next(progress));
  }
}
