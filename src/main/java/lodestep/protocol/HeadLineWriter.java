package lodestep.protocol;

/**
 * Writes the head's lines: type letter, fields, CRC, line end, as {@code firmware-host/PROTOCOL.md}
 * says. The virtual head speaks through it. Pure; any thread.
 */
public final class HeadLineWriter {

  private HeadLineWriter() {}

  /**
   * The line of a frame with its line end, at most {@link HeadFrame#LINE_BYTES_MAX} bytes of ASCII.
   *
   * @throws IllegalArgumentException naming a field that is out of its {@link WireField} range
   */
  public static byte[] line(HeadFrame frame) {
    if (frame instanceof HeadFrame.Status status) {
      return status(status);
    }
    if (frame instanceof HeadFrame.PulseReport report) {
      return report(report);
    }
    if (frame instanceof HeadFrame.TokenGrant grant) {
      return new FieldWriter('T')
          .number(WireField.BOOT_ID, grant.bootId())
          .number(WireField.TOKEN, grant.token())
          .number(WireField.INTENT_NUMBER, grant.intentNumber())
          .line();
    }
    if (frame instanceof HeadFrame.Refused refused) {
      return new FieldWriter('R')
          .number(WireField.BOOT_ID, refused.bootId())
          .number(WireField.REFUSAL_REASON, refused.reason().code())
          .number(WireField.INTENT_NUMBER_OR_NONE, refused.intentNumber())
          .line();
    }
    if (frame instanceof HeadFrame.Build build) {
      return build(build);
    }
    return hello((HeadFrame.Hello) frame);
  }

  private static byte[] status(HeadFrame.Status status) {
    return new FieldWriter('S')
        .number(WireField.SEQUENCE, status.sequence())
        .number(WireField.BOOT_ID, status.bootId())
        .number(WireField.CLOCK_MS, status.clockMs())
        .number(WireField.SAMPLE_COUNTER, status.sampleCounter())
        .number(WireField.HALL_COUNTS, status.hallCounts())
        .number(WireField.CENTI_DEG_C, status.gaugeCentiDegC())
        .number(WireField.CENTI_DEG_C, status.coilCentiDegC())
        .number(WireField.BANK_MILLI_VOLTS, status.bankMilliVolts())
        .number(WireField.COIL_MILLI_AMPS, status.coilMilliAmps())
        .number(WireField.POSITION_MICRO_METRES, status.positionMicroMetres())
        .flags(status.flags())
        .line();
  }

  private static byte[] report(HeadFrame.PulseReport report) {
    return new FieldWriter('P')
        .number(WireField.BOOT_ID, report.bootId())
        .number(WireField.INTENT_NUMBER, report.intentNumber())
        .number(WireField.TOKEN, report.token())
        .number(WireField.PEAK_MILLI_AMPS, report.peakForwardMilliAmps())
        .number(WireField.PEAK_MILLI_AMPS, report.peakReverseMilliAmps())
        .number(WireField.BANK_MILLI_VOLTS, report.bankBeforeMilliVolts())
        .number(WireField.BANK_MILLI_VOLTS, report.bankAfterMilliVolts())
        .number(WireField.DURATION_MICROS, report.durationMicros())
        .yesNo(report.fired())
        .line();
  }

  private static byte[] build(HeadFrame.Build build) {
    return new FieldWriter('B')
        .number(WireField.BOOT_ID, build.bootId())
        .number(WireField.PITCH_NANO_METRES, build.pitchNanoMetres())
        .number(WireField.STEPS_PER_TURN, build.stepsPerTurn())
        .number(WireField.TRAVEL_MICRO_METRES, build.travelMicroMetres())
        .number(WireField.MICRO_METRES_PER_SECOND, build.microMetresPerSecond())
        .number(WireField.WINDOW_MILLIS, build.windowMillis())
        .number(WireField.BANK_MILLI_VOLTS_MAX, build.bankCapMilliVolts())
        .number(WireField.CENTI_DEG_C, build.coilCentiDegCMax())
        .line();
  }

  private static byte[] hello(HeadFrame.Hello hello) {
    return new FieldWriter('H')
        .number(WireField.BOOT_ID, hello.bootId())
        .word(hello.serialNumber(), HeadFrame.SERIAL_CHARACTERS_MAX)
        .number(WireField.VERSION, hello.protocolVersion())
        .word(hello.firmwareVersion(), HeadFrame.FIRMWARE_CHARACTERS_MAX)
        .yesNo(hello.watchdogProven())
        .line();
  }
}
