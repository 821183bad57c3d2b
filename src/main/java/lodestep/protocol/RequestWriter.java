package lodestep.protocol;

/**
 * Writes the host's lines: type letter, fields, CRC, line end, as {@code firmware-host/PROTOCOL.md}
 * says. Pure; any thread.
 */
public final class RequestWriter {

  private RequestWriter() {}

  /**
   * The line with its line end, at most {@link HeadFrame#LINE_BYTES_MAX} bytes of ASCII.
   *
   * @throws IllegalArgumentException naming a field that is out of its {@link WireField} range
   */
  public static byte[] line(HostLine line) {
    HeadRequest request = line.request();
    if (request instanceof HeadRequest.AskHello) {
      return new FieldWriter('h').line();
    }
    if (request instanceof HeadRequest.AskPulse ask) {
      return new FieldWriter('p').number(WireField.INTENT_NUMBER, ask.intentNumber()).line();
    }
    if (request instanceof HeadRequest.Heartbeat heartbeat) {
      return of('b', line)
          .number(WireField.SEQUENCE, heartbeat.sequence())
          .yesNo(heartbeat.permit())
          .line();
    }
    if (request instanceof HeadRequest.AskToken ask) {
      return of('t', line).number(WireField.INTENT_NUMBER, ask.intentNumber()).line();
    }
    if (request instanceof HeadRequest.OpenWindow open) {
      return of('w', line)
          .number(WireField.TOKEN, open.token())
          .number(WireField.INTENT_NUMBER, open.intentNumber())
          .number(WireField.BANK_MILLI_VOLTS_MAX, open.bankMilliVoltsMax())
          .line();
    }
    HeadRequest.MoveTo move = (HeadRequest.MoveTo) request;
    return of('m', line).number(WireField.POSITION_MICRO_METRES, move.positionMicroMetres()).line();
  }

  private static FieldWriter of(char type, HostLine line) {
    return new FieldWriter(type).number(WireField.SESSION, line.session());
  }
}
