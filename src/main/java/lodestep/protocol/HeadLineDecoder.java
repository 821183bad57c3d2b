package lodestep.protocol;

import java.util.ArrayList;
import java.util.List;

/**
 * Turns the head's bytes into frames. A small accumulator of at most one line, confined to one
 * thread. Total: any bytes in, frames and counted faults out, never an exception; after a fault it
 * goes on with the next line.
 */
public final class HeadLineDecoder {

  private final LineStream<HeadFrame> lines = new LineStream<>(HeadLineDecoder::fields);

  /**
   * Takes the first {@code length} bytes, in whatever pieces the line delivers them.
   *
   * @return the frames they complete, oldest first; may be empty
   */
  public List<HeadFrame> feed(byte[] bytes, int length) {
    List<HeadFrame> frames = new ArrayList<>();
    for (int i = 0; i < length; i++) {
      lines.accept(bytes[i]).ifPresent(frames::add);
    }
    return frames;
  }

  /**
   * Begins anew after the line was opened or bytes were thrown away: forgets the line under way,
   * and does not count a bad first line, since it may be the rest of one whose beginning was
   * missed.
   */
  public void restart() {
    lines.restart();
  }

  /** Lines dropped since the start, for whatever reason. */
  public long badLines() {
    return lines.dropped();
  }

  /** Lines dropped since the start for this reason. */
  public long badLines(LineFault fault) {
    return lines.dropped(fault);
  }

  /** Decodes one whole line, given without its line end and not longer than a line may be. */
  public static Decoded<HeadFrame> decode(String line) {
    return LineStream.decode(line, HeadLineDecoder::fields);
  }

  private static Decoded<HeadFrame> fields(FieldReader in) {
    return switch (in.type()) {
      case 'S' -> in.end(status(in));
      case 'P' -> in.end(report(in));
      case 'T' ->
          in.end(
              new HeadFrame.TokenGrant(
                  in.integer(WireField.BOOT_ID),
                  in.integer(WireField.TOKEN),
                  in.number(WireField.INTENT_NUMBER)));
      case 'R' ->
          in.end(
              new HeadFrame.Refused(
                  in.integer(WireField.BOOT_ID),
                  in.refusalReason(),
                  in.number(WireField.INTENT_NUMBER_OR_NONE)));
      case 'H' -> in.end(hello(in));
      case 'B' -> in.end(build(in));
      default -> new Decoded.Dropped<>(LineFault.UNKNOWN_TYPE);
    };
  }

  private static HeadFrame status(FieldReader in) {
    return new HeadFrame.Status(
        in.integer(WireField.SEQUENCE),
        in.integer(WireField.BOOT_ID),
        in.number(WireField.CLOCK_MS),
        in.integer(WireField.SAMPLE_COUNTER),
        in.integer(WireField.HALL_COUNTS),
        in.integer(WireField.CENTI_DEG_C),
        in.integer(WireField.CENTI_DEG_C),
        in.integer(WireField.BANK_MILLI_VOLTS),
        in.integer(WireField.COIL_MILLI_AMPS),
        in.integer(WireField.POSITION_MICRO_METRES),
        in.flags());
  }

  private static HeadFrame report(FieldReader in) {
    return new HeadFrame.PulseReport(
        in.integer(WireField.BOOT_ID),
        in.number(WireField.INTENT_NUMBER),
        in.integer(WireField.TOKEN),
        in.integer(WireField.PEAK_MILLI_AMPS),
        in.integer(WireField.PEAK_MILLI_AMPS),
        in.integer(WireField.BANK_MILLI_VOLTS),
        in.integer(WireField.BANK_MILLI_VOLTS),
        in.integer(WireField.DURATION_MICROS),
        in.yesNo());
  }

  private static HeadFrame build(FieldReader in) {
    return new HeadFrame.Build(
        in.integer(WireField.BOOT_ID),
        in.integer(WireField.PITCH_NANO_METRES),
        in.integer(WireField.STEPS_PER_TURN),
        in.integer(WireField.TRAVEL_MICRO_METRES),
        in.integer(WireField.MICRO_METRES_PER_SECOND),
        in.integer(WireField.WINDOW_MILLIS),
        in.integer(WireField.BANK_MILLI_VOLTS_MAX),
        in.integer(WireField.CENTI_DEG_C));
  }

  private static HeadFrame hello(FieldReader in) {
    return new HeadFrame.Hello(
        in.integer(WireField.BOOT_ID),
        in.word(HeadFrame.SERIAL_CHARACTERS_MAX),
        in.integer(WireField.VERSION),
        in.word(HeadFrame.FIRMWARE_CHARACTERS_MAX),
        in.yesNo());
  }
}
