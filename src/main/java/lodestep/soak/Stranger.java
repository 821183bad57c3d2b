package lodestep.soak;

import java.util.Optional;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.sim.VirtualRig;

/** Another program on the head's port, with a session of its own. Confined to its world. */
final class Stranger {

  /** No host of a run counts its sessions so far. */
  private static final int SESSION = 999;

  private static final int EACH_MS = 37;
  private static final int MOVES_TO_MICRO_METRES = 30_000;

  private final VirtualRig rig;
  private Optional<String> asks = Optional.empty();
  private int beats;

  Stranger(VirtualRig rig) {
    this.rig = rig;
  }

  /** It begins, or ends, to ask; all that is no stranger is passed over. */
  void act(Happening what, boolean begins) {
    if (what.kind() == HappeningKind.STRANGER) {
      asks = begins ? Optional.of(what.on()) : Optional.empty();
    }
  }

  /** Somebody ends it. */
  void goes() {
    asks = Optional.empty();
  }

  void step(long ms) {
    if (asks.isPresent() && ms % EACH_MS == 0) {
      rig.headLink().offer(new HostLine(SESSION, request(asks.get())));
    }
  }

  private HeadRequest request(String what) {
    beats = (beats + 1) & 0xffff;
    return switch (what) {
      case "to be served" -> new HeadRequest.Heartbeat(beats, true);
      case "to let go" -> new HeadRequest.Heartbeat(beats, false);
      case "a token" -> new HeadRequest.AskToken(1);
      default -> new HeadRequest.MoveTo(MOVES_TO_MICRO_METRES);
    };
  }
}
