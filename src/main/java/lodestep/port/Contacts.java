package lodestep.port;

import java.util.Collection;

/**
 * All input contacts as read at one moment. Any thread, immutable.
 *
 * @param closedBits the closed lines, one bit each; kept as bits because a set is made every scan
 * @param readAtNs monotonic time of the reading, in nanoseconds
 */
public record Contacts(int closedBits, long readAtNs) {

  /** Contacts with exactly these lines closed. */
  public static Contacts of(Collection<InputLine> closed, long readAtNs) {
    int bits = 0;
    for (InputLine line : closed) {
      bits |= line.bit();
    }
    return new Contacts(bits, readAtNs);
  }

  /** Whether the line's contact is closed. */
  public boolean closed(InputLine line) {
    return (closedBits & line.bit()) != 0;
  }

  /** The same contacts with one line changed. */
  public Contacts with(InputLine line, boolean closed) {
    return new Contacts(closed ? closedBits | line.bit() : closedBits & ~line.bit(), readAtNs);
  }
}
