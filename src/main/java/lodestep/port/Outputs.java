package lodestep.port;

import java.util.ArrayList;
import java.util.List;

/**
 * The level of every output line: a complete record each scan, low unless said. Any thread,
 * immutable.
 *
 * @param highBits the lines that are high, one bit each; kept as bits because a set is made every
 *     scan
 */
public record Outputs(int highBits) {

  /** Everything low: the safe state. */
  public static final Outputs ALL_LOW = new Outputs(0);

  /** Outputs with exactly these lines high. */
  public static Outputs high(OutputLine... lines) {
    int bits = 0;
    for (OutputLine line : lines) {
      bits |= line.bit();
    }
    return new Outputs(bits);
  }

  /** Whether the line is high. */
  public boolean isHigh(OutputLine line) {
    return (highBits & line.bit()) != 0;
  }

  /** The same levels with this line high. */
  public Outputs and(OutputLine line) {
    return new Outputs(highBits | line.bit());
  }

  /** The same levels with this line at the given level. */
  public Outputs with(OutputLine line, boolean high) {
    return new Outputs(high ? highBits | line.bit() : highBits & ~line.bit());
  }

  /** These levels with every line lowered that is not high in {@code allowed}; never raises one. */
  public Outputs only(Outputs allowed) {
    return new Outputs(highBits & allowed.highBits);
  }

  /** The lines that are high, in the order of {@link OutputLine}. */
  public List<OutputLine> lines() {
    List<OutputLine> lines = new ArrayList<>();
    for (OutputLine line : OutputLine.values()) {
      if (isHigh(line)) {
        lines.add(line);
      }
    }
    return lines;
  }
}
