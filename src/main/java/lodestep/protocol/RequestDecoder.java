package lodestep.protocol;

import java.util.ArrayList;
import java.util.List;

/**
 * Turns the host's bytes into requests and stops, as a head does. A small accumulator of at most
 * one line, confined to one thread. Total: any bytes in, requests and counted faults out, never an
 * exception; after a fault it goes on with the next line.
 */
public final class RequestDecoder {

  private final LineStream<HostLine> lines = new LineStream<>(RequestDecoder::fields);

  /**
   * What a piece of bytes brought.
   *
   * @param stop whether the stop byte was among them; it is handled before the requests
   * @param lines those that came whole and <em>after</em> the last stop byte, oldest first
   */
  public record Received(boolean stop, List<HostLine> lines) {
    public Received {
      lines = List.copyOf(lines);
    }
  }

  /**
   * Takes the first {@code length} bytes, in whatever pieces the line delivers them. A stop byte
   * drops every request before it in this piece and the line it stands in, since nothing that was
   * asked before a stop may be begun after it.
   */
  public Received feed(byte[] bytes, int length) {
    boolean stop = false;
    List<HostLine> whole = new ArrayList<>();
    for (int i = 0; i < length; i++) {
      if (bytes[i] == HeadRequest.STOP_BYTE) {
        stop = true;
        whole.clear();
        lines.abandonLine();
      } else {
        lines.accept(bytes[i]).ifPresent(whole::add);
      }
    }
    return new Received(stop, whole);
  }

  /** Lines dropped since the start, for whatever reason; lines cut by a stop are not among them. */
  public long badLines() {
    return lines.dropped();
  }

  /** Lines dropped since the start for this reason. */
  public long badLines(LineFault fault) {
    return lines.dropped(fault);
  }

  /** Decodes one whole line, given without its line end and not longer than a line may be. */
  public static Decoded<HostLine> decode(String line) {
    return LineStream.decode(line, RequestDecoder::fields);
  }

  private static Decoded<HostLine> fields(FieldReader in) {
    return switch (in.type()) {
      case 'h' -> in.end(ofNone(new HeadRequest.AskHello()));
      case 'p' -> in.end(ofNone(new HeadRequest.AskPulse(in.number(WireField.INTENT_NUMBER))));
      case 'b', 't', 'w', 'm' -> {
        int session = in.integer(WireField.SESSION);
        yield in.end(new HostLine(session, ofSession(in)));
      }
      default -> new Decoded.Dropped<>(LineFault.UNKNOWN_TYPE);
    };
  }

  private static HostLine ofNone(HeadRequest request) {
    return new HostLine(HostLine.NO_SESSION, request);
  }

  private static HeadRequest ofSession(FieldReader in) {
    return switch (in.type()) {
      case 'b' -> new HeadRequest.Heartbeat(in.integer(WireField.SEQUENCE), in.yesNo());
      case 't' -> new HeadRequest.AskToken(in.number(WireField.INTENT_NUMBER));
      case 'w' ->
          new HeadRequest.OpenWindow(
              in.integer(WireField.TOKEN),
              in.number(WireField.INTENT_NUMBER),
              in.integer(WireField.BANK_MILLI_VOLTS_MAX));
      default -> new HeadRequest.MoveTo(in.integer(WireField.POSITION_MICRO_METRES));
    };
  }
}
