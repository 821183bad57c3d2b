package lodestep.protocol;

import java.util.Arrays;
import java.util.Optional;

/** Why the head declined a request. */
public enum RefusalReason {
  /** No permit is held, so there is nothing to open a window for. */
  NO_PERMIT(1),
  /** The token is unknown, used, too old, or for another intent. */
  BAD_TOKEN(2),
  /** The bank stands above the highest voltage allowed in the request, or above the head's cap. */
  BANK_TOO_HIGH(3),
  /** The head's own checks (chain, coil temperature, contacts) do not allow it. */
  NOT_SAFE(4),
  /** A number is not in the head's ring of past pulses. */
  NOT_IN_RING(5);

  private final int code;

  RefusalReason(int code) {
    this.code = code;
  }

  /** This reason's number on the wire; it never changes. */
  public int code() {
    return code;
  }

  /** The reason of this number, if there is one. */
  public static Optional<RefusalReason> ofCode(int code) {
    return Arrays.stream(values()).filter(reason -> reason.code == code).findFirst();
  }
}
