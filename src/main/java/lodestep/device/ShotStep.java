package lodestep.device;

import java.util.List;
import lodestep.port.Outputs;
import lodestep.protocol.HeadRequest;

/**
 * What a shot wants of one scan.
 *
 * @param next the shot's next state
 * @param wanted output levels, relays and energy alike
 * @param permit whether the head's permit is asked for
 * @param requests to the head, in this order
 */
public record ShotStep(ShotState next, Outputs wanted, boolean permit, List<HeadRequest> requests) {

  public ShotStep {
    requests = List.copyOf(requests);
  }
}
