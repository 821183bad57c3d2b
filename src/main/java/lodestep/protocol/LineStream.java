package lodestep.protocol;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * Gathers bytes into lines and decodes them. A small accumulator confined to one thread; total: any
 * byte may come at any time, a fault is counted and costs its line, and the next line end puts
 * things right.
 */
final class LineStream<T> {

  /** Separator and four digits. */
  private static final int CRC_TAIL = 5;

  private final Function<FieldReader, Decoded<T>> fields;
  private final Map<LineFault, Long> dropped = new EnumMap<>(LineFault.class);
  private final StringBuilder line = new StringBuilder(HeadFrame.LINE_BYTES_MAX);
  private Optional<LineFault> fault = Optional.empty();
  private boolean abandoned;
  private boolean mayBeFragment;

  LineStream(Function<FieldReader, Decoded<T>> fields) {
    this.fields = fields;
  }

  /** Takes one byte; gives the message that it completes. */
  Optional<T> accept(byte octet) {
    if (octet != '\n') {
      gather(octet);
      return Optional.empty();
    }
    boolean empty = line.length() == 0 && fault.isEmpty();
    Optional<T> message = empty || abandoned ? Optional.empty() : complete();
    line.setLength(0);
    fault = Optional.empty();
    abandoned = false;
    mayBeFragment = false;
    return message;
  }

  /** Drops the line under way, if there is one, up to its end; that is no fault. */
  void abandonLine() {
    abandoned = abandoned || line.length() > 0 || fault.isPresent();
  }

  /** Begins anew in the middle of nowhere: a bad first line may be a fragment and is no fault. */
  void restart() {
    line.setLength(0);
    fault = Optional.empty();
    abandoned = false;
    mayBeFragment = true;
  }

  long dropped(LineFault kind) {
    return dropped.getOrDefault(kind, 0L);
  }

  long dropped() {
    return dropped.values().stream().mapToLong(Long::longValue).sum();
  }

  /** Decodes one line without its line end. */
  static <T> Decoded<T> decode(String text, Function<FieldReader, Decoded<T>> fields) {
    int end = text.length() - CRC_TAIL;
    if (end < 1 || text.charAt(end) != ' ' || !FieldReader.isHex(text.substring(end + 1))) {
      return new Decoded.Dropped<>(LineFault.NO_CRC);
    }
    String body = text.substring(0, end);
    if (Crc16.of(body) != Integer.parseInt(text.substring(end + 1), 16)) {
      return new Decoded.Dropped<>(LineFault.BAD_CRC);
    }
    return fields.apply(new FieldReader(body));
  }

  private void gather(byte octet) {
    if (fault.isPresent()) {
      return;
    }
    if (octet < ' ' || octet > '~') {
      fault = Optional.of(LineFault.NOT_PRINTABLE);
    } else if (line.length() == HeadFrame.LINE_BYTES_MAX - 1) {
      fault = Optional.of(LineFault.TOO_LONG);
    } else {
      line.append((char) octet);
    }
  }

  private Optional<T> complete() {
    Decoded<T> decoded =
        fault
            .<Decoded<T>>map(Decoded.Dropped::new)
            .orElseGet(() -> decode(line.toString(), fields));
    return decoded.match(Optional::of, this::count);
  }

  private Optional<T> count(LineFault found) {
    if (!mayBeFragment) {
      dropped.merge(found, 1L, Long::sum);
    }
    return Optional.empty();
  }
}
