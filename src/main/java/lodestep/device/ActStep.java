package lodestep.device;

import java.util.List;
import lodestep.port.Outputs;
import lodestep.protocol.HeadRequest;

/**
 * What an act wants of one scan.
 *
 * @param next the act's next state
 * @param wanted output levels, relays and energy alike
 * @param permit whether the head's permit is asked for
 * @param requests to the head, in this order
 */
public record ActStep(Act next, Outputs wanted, boolean permit, List<HeadRequest> requests) {

  public ActStep {
    requests = List.copyOf(requests);
  }
}
