package lodestep.port;

/**
 * The rig's contacts and relays. Control thread only; never blocks.
 *
 * <p>New and closed alike, every output is low. After {@link #close} no call can raise one.
 */
public interface Lines extends AutoCloseable {

  /** Reads every contact, live. {@code nowNs} is this scan's monotonic time. */
  Contacts read(long nowNs);

  /** Drives every output, lowering first, and returns the levels read back from the lines. */
  Outputs drive(Outputs outputs);

  /** Lowers every output, whatever fails on the way, and lets the lines go. */
  @Override
  void close();
}
