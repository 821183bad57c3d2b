package lodestep.port;

import java.util.List;
import java.util.Optional;
import lodestep.protocol.HeadRequest;

/**
 * The next state of the job and all it wants of this scan.
 *
 * @param next the job that is stepped in the next scan
 * @param wanted the level of every output; the interlocks may lower some, nothing raises any
 * @param permit whether the job needs the head's permit relay; the interlocks may clear it
 * @param events to be appended in this order
 * @param requests to the head, in this order
 * @param question for the plan desk; its answer comes in a later view
 */
public record JobStep(
    Job next,
    Outputs wanted,
    boolean permit,
    List<LedgerEvent> events,
    List<HeadRequest> requests,
    Optional<PlanQuestion> question) {

  public JobStep {
    events = List.copyOf(events);
    requests = List.copyOf(requests);
  }

  /** A quiet scan: these levels and nothing else. */
  public static JobStep stay(Job next, Outputs wanted, boolean permit) {
    return new JobStep(next, wanted, permit, List.of(), List.of(), Optional.empty());
  }
}
