package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.port.PlanQuestion;
import lodestep.protocol.HeadRequest;

/**
 * What dialing wants of one scan; see {@link lodestep.port.JobStep} for the meaning of the parts.
 */
public record DialStep(
    DialState next,
    Outputs wanted,
    boolean permit,
    List<LedgerEvent> events,
    List<HeadRequest> requests,
    Optional<PlanQuestion> question) {

  public DialStep {
    events = List.copyOf(events);
    requests = List.copyOf(requests);
  }

  static DialStep quiet(DialState next) {
    return quiet(next, List.of());
  }

  static DialStep quiet(DialState next, List<LedgerEvent> events) {
    return new DialStep(next, Outputs.ALL_LOW, false, events, List.of(), Optional.empty());
  }

  /** Nothing driven, events to write, and a question to the planner. */
  static DialStep asking(DialState next, List<LedgerEvent> events, MoveQuestion question) {
    return new DialStep(next, Outputs.ALL_LOW, false, events, List.of(), Optional.of(question));
  }
}
