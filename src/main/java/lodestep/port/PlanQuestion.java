package lodestep.port;

/**
 * A question and how its answer is worked out: a pure function of the question alone, so that a
 * worker and an inline desk give the same answer.
 */
public interface PlanQuestion {

  /** The number the answer carries; rises with every question. */
  long number();

  /** Works the answer out. Pure; may take longer than a scan. */
  PlanAnswer solve();
}
