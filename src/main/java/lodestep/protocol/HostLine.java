package lodestep.protocol;

/**
 * A request as it stands on the wire: with the session it belongs to, which is one start of the
 * host. What energises nothing ({@link HeadRequest.AskHello}, {@link HeadRequest.AskPulse}) is
 * answered to anybody and carries none. Any thread, immutable.
 *
 * @param session 1 to 65535, {@link #NO_SESSION} where the request carries none
 */
public record HostLine(int session, HeadRequest request) {

  /** Of a request that belongs to no session. */
  public static final int NO_SESSION = 0;

  /** Drops the session of a request that carries none. */
  public HostLine {
    session = carriesSession(request) ? session : NO_SESSION;
  }

  private static boolean carriesSession(HeadRequest request) {
    return !(request instanceof HeadRequest.AskHello || request instanceof HeadRequest.AskPulse);
  }
}
