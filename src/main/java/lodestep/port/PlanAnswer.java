package lodestep.port;

/** The answer to a {@link PlanQuestion}. */
public interface PlanAnswer {

  /** The number of the question it answers. */
  long number();
}
