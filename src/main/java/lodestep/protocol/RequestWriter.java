package lodestep.protocol;

/**
 * Writes the host's lines: type letter, fields, CRC, line end, as {@code firmware-host/PROTOCOL.md}
 * says. Pure; any thread.
 */
public final class RequestWriter {

  private RequestWriter() {}

  /**
   * The line of a request with its line end, at most {@link HeadFrame#LINE_BYTES_MAX} bytes of
   * ASCII.
   *
   * @throws IllegalArgumentException naming a field that is out of its {@link WireField} range
   */
  public static byte[] line(HeadRequest request) {
    if (request instanceof HeadRequest.Heartbeat heartbeat) {
      return new FieldWriter('b')
          .number(WireField.SEQUENCE, heartbeat.sequence())
          .yesNo(heartbeat.permit())
          .line();
    }
    if (request instanceof HeadRequest.AskHello) {
      return new FieldWriter('h').line();
    }
    if (request instanceof HeadRequest.AskToken ask) {
      return new FieldWriter('t').number(WireField.INTENT_NUMBER, ask.intentNumber()).line();
    }
    if (request instanceof HeadRequest.OpenWindow open) {
      return new FieldWriter('w')
          .number(WireField.TOKEN, open.token())
          .number(WireField.INTENT_NUMBER, open.intentNumber())
          .number(WireField.BANK_MILLI_VOLTS_MAX, open.bankMilliVoltsMax())
          .line();
    }
    if (request instanceof HeadRequest.MoveTo move) {
      return new FieldWriter('m')
          .number(WireField.POSITION_MICRO_METRES, move.positionMicroMetres())
          .line();
    }
    HeadRequest.AskPulse ask = (HeadRequest.AskPulse) request;
    return new FieldWriter('p').number(WireField.INTENT_NUMBER, ask.intentNumber()).line();
  }
}
