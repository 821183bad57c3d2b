package lodestep.bench;

import java.util.List;
import java.util.function.Function;

/** What came of reading a plan: a plan that can be started, or everything that is wrong with it. */
public sealed interface PlanReading permits Plan, PlanReading.Refused {

  /**
   * Not started on, not even in part.
   *
   * @param plan the plan's name
   * @param errors at least one, by line and then column
   */
  record Refused(String plan, List<PlanError> errors) implements PlanReading {
    /**
     * @throws IllegalArgumentException if there is no error
     */
    public Refused {
      errors = List.copyOf(errors);
      if (errors.isEmpty()) {
        throw new IllegalArgumentException("a plan is refused for at least one error");
      }
    }

    /** One line for each error, the plan's name and the place first. */
    public List<String> written() {
      return errors.stream().map(error -> plan + ", " + error.written()).toList();
    }
  }

  /** One arm for each end. */
  default <R> R match(Function<Plan, R> plan, Function<Refused, R> refused) {
    if (this instanceof Plan good) {
      return plan.apply(good);
    }
    return refused.apply((Refused) this);
  }
}
