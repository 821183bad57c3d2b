package lodestep.protocol;

/** Why the head declined a request. */
public enum RefusalReason {
  /** No permit is held, so there is nothing to open a window for. */
  NO_PERMIT,
  /** The token is unknown, used, too old, or for another intent. */
  BAD_TOKEN,
  /** The bank stands above the highest voltage allowed in the request, or above the head's cap. */
  BANK_TOO_HIGH,
  /** The head's own checks (chain, coil temperature, contacts) do not allow it. */
  NOT_SAFE,
  /** A number is not in the head's ring of past pulses. */
  NOT_IN_RING
}
