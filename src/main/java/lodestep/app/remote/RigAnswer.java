package lodestep.app.remote;

import java.util.Optional;

/**
 * One line from the rig process, which owns the virtual bench, to the host, which owns the time.
 *
 * <pre>
 * ready                                  the cable is laid; nothing has moved yet
 * refused SENTENCE                       there will be no rig; the process ends
 * due TIME TOTAL                         at TIME the head begins to send; once told "send", the
 *                                        rig's end of the line will have sent TOTAL bytes in all
 * at TIME CONTACTS DRIVEN CONTINUES HELP reached TIME, with the contacts and driven levels as bits,
 *                                        how often the operator said "continue" on the way, and
 *                                        whether (1 or 0) she has given up
 * drove DRIVEN                           the levels that stand at the outputs now, as bits
 * plugged TOTAL                          the cable is plugged in again; the rig's end of the line
 *                                        has sent TOTAL bytes in all
 * </pre>
 */
sealed interface RigAnswer {

  record Ready() implements RigAnswer {}

  record Refused(String sentence) implements RigAnswer {}

  record Due(long atNs, long totalBytes) implements RigAnswer {}

  record At(long nowNs, int contactBits, int drivenBits, int continues, boolean gaveUp)
      implements RigAnswer {}

  record Drove(int drivenBits) implements RigAnswer {}

  record Plugged(long totalBytes) implements RigAnswer {}

  /** The line of this answer, without its line end. */
  default String line() {
    if (this instanceof Ready) {
      return "ready";
    }
    if (this instanceof Refused refused) {
      return "refused " + refused.sentence();
    }
    if (this instanceof Due due) {
      return "due " + due.atNs() + " " + due.totalBytes();
    }
    if (this instanceof Drove drove) {
      return "drove " + drove.drivenBits();
    }
    if (this instanceof Plugged plugged) {
      return "plugged " + plugged.totalBytes();
    }
    At at = (At) this;
    return "at "
        + at.nowNs()
        + " "
        + at.contactBits()
        + " "
        + at.drivenBits()
        + " "
        + at.continues()
        + " "
        + (at.gaveUp() ? 1 : 0);
  }

  /** Reads a line; empty if it is none of these. */
  static Optional<RigAnswer> read(String line) {
    String[] word = line.split(" ", -1);
    try {
      return Optional.ofNullable(
          switch (word[0]) {
            case "ready" -> new Ready();
            case "refused" -> new Refused(line.substring(Math.min(line.length(), 8)));
            case "due" -> new Due(Long.parseLong(word[1]), Long.parseLong(word[2]));
            case "drove" -> new Drove(Integer.parseInt(word[1]));
            case "plugged" -> new Plugged(Long.parseLong(word[1]));
            case "at" ->
                new At(
                    Long.parseLong(word[1]),
                    Integer.parseInt(word[2]),
                    Integer.parseInt(word[3]),
                    Integer.parseInt(word[4]),
                    word[5].equals("1"));
            default -> null;
          });
    } catch (NumberFormatException | ArrayIndexOutOfBoundsException e) {
      return Optional.empty();
    }
  }
}
