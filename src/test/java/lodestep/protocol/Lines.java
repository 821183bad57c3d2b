package lodestep.protocol;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;

/** Frames and requests drawn from the whole range of every field, its ends included. */
final class Lines {

  private Lines() {}

  static Arbitrary<HeadFrame> frames() {
    return Arbitraries.oneOf(statuses(), reports(), grants(), refusals(), hellos(), builds());
  }

  static Arbitrary<HostLine> hostLines() {
    return Combinators.combine(integers(WireField.SESSION), requests()).as(HostLine::new);
  }

  private static Arbitrary<HeadRequest> requests() {
    Arbitrary<HeadRequest> heartbeats =
        Combinators.combine(integers(WireField.SEQUENCE), Arbitraries.of(true, false))
            .as(HeadRequest.Heartbeat::new);
    Arbitrary<HeadRequest> windows =
        Combinators.combine(
                integers(WireField.TOKEN),
                longs(WireField.INTENT_NUMBER),
                integers(WireField.BANK_MILLI_VOLTS_MAX))
            .as(HeadRequest.OpenWindow::new);
    return Arbitraries.oneOf(
        heartbeats,
        windows,
        Arbitraries.of(new HeadRequest.AskHello()),
        longs(WireField.INTENT_NUMBER).map(HeadRequest.AskToken::new),
        longs(WireField.INTENT_NUMBER).map(HeadRequest.AskPulse::new),
        integers(WireField.POSITION_MICRO_METRES).map(HeadRequest.MoveTo::new));
  }

  static Arbitrary<HeadFrame> statuses() {
    Arbitrary<List<Integer>> integers =
        Combinators.combine(
                Stream.of(
                        WireField.SEQUENCE,
                        WireField.BOOT_ID,
                        WireField.SAMPLE_COUNTER,
                        WireField.HALL_COUNTS,
                        WireField.CENTI_DEG_C,
                        WireField.CENTI_DEG_C,
                        WireField.BANK_MILLI_VOLTS,
                        WireField.COIL_MILLI_AMPS,
                        WireField.POSITION_MICRO_METRES,
                        WireField.FLAGS)
                    .map(Lines::integers)
                    .toList())
            .as(values -> values);
    return Combinators.combine(integers, longs(WireField.CLOCK_MS))
        .as(
            (n, clock) ->
                new HeadFrame.Status(
                    n.get(0), n.get(1), clock, n.get(2), n.get(3), n.get(4), n.get(5), n.get(6),
                    n.get(7), n.get(8), n.get(9)));
  }

  /** Every message with each of its fields at the end that takes more characters. */
  static List<byte[]> longest() {
    return List.of(
        HeadLineWriter.line(
            new HeadFrame.Status(
                65_535,
                65_535,
                9_999_999_999_999L,
                255,
                -8_388_608,
                -32_768,
                -32_768,
                -9_999,
                -999_999,
                -999_999,
                (int) WireField.FLAGS.largest())),
        HeadLineWriter.line(
            new HeadFrame.PulseReport(
                65_535,
                999_999_999_999_999_999L,
                2_147_483_647,
                999_999,
                999_999,
                -9_999,
                -9_999,
                9_999_999,
                true)),
        HeadLineWriter.line(
            new HeadFrame.TokenGrant(65_535, 2_147_483_647, 999_999_999_999_999_999L)),
        HeadLineWriter.line(
            new HeadFrame.Refused(65_535, RefusalReason.NOT_IN_RING, 999_999_999_999_999_999L)),
        longestHello(),
        longestBuild(),
        longest(new HeadRequest.Heartbeat(65_535, true)),
        longest(new HeadRequest.AskHello()),
        longest(new HeadRequest.AskToken(999_999_999_999_999_999L)),
        longest(new HeadRequest.OpenWindow(2_147_483_647, 999_999_999_999_999_999L, 99_999)),
        longest(new HeadRequest.MoveTo(-999_999)),
        longest(new HeadRequest.AskPulse(999_999_999_999_999_999L)));
  }

  private static byte[] longest(HeadRequest request) {
    return RequestWriter.line(new HostLine(65_535, request));
  }

  private static byte[] longestBuild() {
    return HeadLineWriter.line(
        new HeadFrame.Build(65_535, 9_999_999, 99_999, 999_999, 99_999, 9_999, 99_999, -32_768));
  }

  private static byte[] longestHello() {
    return HeadLineWriter.line(
        new HeadFrame.Hello(65_535, "S".repeat(16), 65_535, "F".repeat(12), true));
  }

  static byte[] joined(byte[]... parts) {
    int length = Arrays.stream(parts).mapToInt(part -> part.length).sum();
    byte[] all = new byte[length];
    int at = 0;
    for (byte[] part : parts) {
      System.arraycopy(part, 0, all, at, part.length);
      at += part.length;
    }
    return all;
  }

  static String text(byte[] line) {
    return new String(line, StandardCharsets.ISO_8859_1).strip();
  }

  /** A body with a good CRC and no line end, for what the writers refuse to write. */
  static String sealed(String body) {
    return String.format(Locale.ROOT, "%s %04X", body, Crc16.of(body));
  }

  private static Arbitrary<HeadFrame> reports() {
    Arbitrary<List<Integer>> integers =
        Combinators.combine(
                Stream.of(
                        WireField.BOOT_ID,
                        WireField.TOKEN,
                        WireField.PEAK_MILLI_AMPS,
                        WireField.PEAK_MILLI_AMPS,
                        WireField.BANK_MILLI_VOLTS,
                        WireField.BANK_MILLI_VOLTS,
                        WireField.DURATION_MICROS)
                    .map(Lines::integers)
                    .toList())
            .as(values -> values);
    return Combinators.combine(
            integers, longs(WireField.INTENT_NUMBER), Arbitraries.of(true, false))
        .as(
            (n, intent, fired) ->
                new HeadFrame.PulseReport(
                    n.get(0), intent, n.get(1), n.get(2), n.get(3), n.get(4), n.get(5), n.get(6),
                    fired));
  }

  private static Arbitrary<HeadFrame> grants() {
    return Combinators.combine(
            integers(WireField.BOOT_ID), integers(WireField.TOKEN), longs(WireField.INTENT_NUMBER))
        .as(HeadFrame.TokenGrant::new);
  }

  private static Arbitrary<HeadFrame> refusals() {
    return Combinators.combine(
            integers(WireField.BOOT_ID),
            Arbitraries.of(RefusalReason.class),
            longs(WireField.INTENT_NUMBER_OR_NONE))
        .as(HeadFrame.Refused::new);
  }

  private static Arbitrary<HeadFrame> hellos() {
    return Combinators.combine(
            integers(WireField.BOOT_ID),
            words(16),
            integers(WireField.VERSION),
            words(12),
            Arbitraries.of(true, false))
        .as(HeadFrame.Hello::new);
  }

  private static Arbitrary<HeadFrame> builds() {
    return Combinators.combine(
            Stream.of(
                    WireField.BOOT_ID,
                    WireField.PITCH_NANO_METRES,
                    WireField.STEPS_PER_TURN,
                    WireField.TRAVEL_MICRO_METRES,
                    WireField.MICRO_METRES_PER_SECOND,
                    WireField.WINDOW_MILLIS,
                    WireField.BANK_MILLI_VOLTS_MAX,
                    WireField.CENTI_DEG_C)
                .map(Lines::integers)
                .toList())
        .as(
            n ->
                new HeadFrame.Build(
                    n.get(0), n.get(1), n.get(2), n.get(3), n.get(4), n.get(5), n.get(6),
                    n.get(7)));
  }

  private static Arbitrary<String> words(int charactersMax) {
    return Arbitraries.strings().withCharRange('!', '~').ofMinLength(1).ofMaxLength(charactersMax);
  }

  private static Arbitrary<Integer> integers(WireField field) {
    return Arbitraries.integers().between((int) field.smallest(), (int) field.largest());
  }

  private static Arbitrary<Long> longs(WireField field) {
    return Arbitraries.longs().between(field.smallest(), field.largest());
  }
}
