package lodestep.panel;

import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import java.io.IOException;

/**
 * One way into the server, with what it demands.
 *
 * @param path as the server has it
 */
record Route(HandlerType method, String path, Kind kind, Body body) {

  /** What a request must have, beside the right host and, for an act, the right origin. */
  enum Kind {
    /** Nothing: the page itself, which holds nothing of the rig. */
    PAGE,
    /** A code shown at the rig. */
    PAIR,
    /** A token. */
    READ,
    /** A token that may prepare, with its proof. It changes nothing. */
    ASK,
    /** The same, and a command that is fresh, new and saw the newest state. */
    COMMAND,
    /** A token, even a lapsed one, with its proof; past every limit and queue. */
    STOP
  }

  /** Answers a request that has all it must have. */
  @FunctionalInterface
  interface Body {
    /** Answers. */
    void answer(Context context, Guard.Allowed allowed) throws IOException;
  }
}
