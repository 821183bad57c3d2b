package lodestep.port;

/**
 * Where a chain of events ends: enough to go on from, and, noted elsewhere, enough to prove later
 * that nothing up to here was changed or cut off.
 *
 * @param number of the newest event; 0 when there is none
 * @param hash of that event; {@link Hash#ZERO} when there is none
 */
public record ChainEnd(long number, Hash hash) {

  /** The end of a chain with no event. */
  public static final ChainEnd EMPTY = new ChainEnd(0, Hash.ZERO);
}
