package lodestep.protocol;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/** Goal: the head acts on what the host asked or on nothing, and stop comes before everything. */
class RequestCodecTest {

  private static final byte[] STOP = {HeadRequest.STOP_BYTE};
  private static final HostLine AFTER = new HostLine(7, new HeadRequest.AskToken(4));

  @Provide
  Arbitrary<HostLine> requests() {
    return Lines.hostLines();
  }

  @Property
  void comesBackAsItWasWritten(@ForAll("requests") HostLine request) {
    byte[] line = RequestWriter.line(request);

    RequestDecoder decoder = new RequestDecoder();

    assertThat(decoder.feed(line, line.length))
        .isEqualTo(new RequestDecoder.Received(false, List.of(request)));
    assertThat(decoder.badLines()).isZero();
  }

  @Property(tries = 200)
  void isRejectedAndNeverAStopWhenAnySingleBitFlips(@ForAll("requests") HostLine request) {
    byte[] line = RequestWriter.line(request);
    byte[] after = RequestWriter.line(AFTER);

    for (int bit = 0; bit < line.length * 8; bit++) {
      byte[] bytes = Lines.joined(line, after);
      bytes[bit / 8] ^= (byte) (1 << (bit % 8));
      RequestDecoder.Received got = new RequestDecoder().feed(bytes, bytes.length);

      boolean lineEnd = bit / 8 == line.length - 1;
      assertThat(got.lines()).as("bit %d", bit).isEqualTo(lineEnd ? List.of() : List.of(AFTER));
      assertThat(got.stop()).as("bit %d", bit).isFalse();
    }
  }

  @Property
  void stopsWhereverTheStopByteStands(
      @ForAll("requests") HostLine request, @ForAll @IntRange(min = 0, max = 99) int place) {
    byte[] line = RequestWriter.line(request);
    int at = Math.min(place, line.length);
    byte[] bytes =
        Lines.joined(
            Arrays.copyOf(line, at),
            STOP,
            Arrays.copyOfRange(line, at, line.length),
            RequestWriter.line(AFTER));
    RequestDecoder decoder = new RequestDecoder();

    RequestDecoder.Received got = decoder.feed(bytes, bytes.length);

    // Before the line it stands in, the line is asked anew; inside or after it, it is not.
    List<HostLine> left = at == 0 ? List.of(request, AFTER) : List.of(AFTER);
    assertThat(got).isEqualTo(new RequestDecoder.Received(true, left));
    assertThat(decoder.badLines()).isZero();
  }

  @Property
  void stopsInTheMiddleOfGarbage(@ForAll byte[] before, @ForAll byte[] after) {
    byte[] bytes = Lines.joined(before, STOP, after);

    assertThat(new RequestDecoder().feed(bytes, bytes.length).stop()).isTrue();
  }

  @Test
  void dropsALineCutByAStopThatCameInAnEarlierPiece() {
    byte[] line = RequestWriter.line(new HostLine(7, new HeadRequest.OpenWindow(9, 4, 12_500)));
    RequestDecoder decoder = new RequestDecoder();

    decoder.feed(line, 5);
    boolean stop = decoder.feed(STOP, 1).stop();
    byte[] rest = Arrays.copyOfRange(line, 5, line.length);
    RequestDecoder.Received got = decoder.feed(rest, rest.length);

    assertThat(stop).isTrue();
    assertThat(got).isEqualTo(new RequestDecoder.Received(false, List.of()));
  }

  @Test
  void keepsTheStopByteAtLeastTwoBitsFromEveryByteOfALine() {
    int stop = HeadRequest.STOP_BYTE & 0xFF;

    for (int octet = ' '; octet <= '~'; octet++) {
      assertThat(Integer.bitCount(octet ^ stop)).as("byte %x", octet).isGreaterThanOrEqualTo(2);
    }
    assertThat(Integer.bitCount('\n' ^ stop)).isEqualTo(6);
  }

  @Property
  void findsTheNextLineAfterAnyGarbage(
      @ForAll byte[] garbage, @ForAll("requests") HostLine request) {
    byte[] bytes = Lines.joined(garbage, new byte[] {'\n'}, RequestWriter.line(request));

    assertThat(new RequestDecoder().feed(bytes, bytes.length).lines()).containsExactly(request);
  }

  @Test
  void countsWhatItDrops() {
    RequestDecoder decoder = new RequestDecoder();
    byte[] bytes = "rubbish here\n".getBytes(StandardCharsets.US_ASCII);

    decoder.feed(bytes, bytes.length);

    assertThat(decoder.badLines()).isOne();
    assertThat(decoder.badLines(LineFault.BAD_CRC)).isZero();
    assertThat(decoder.badLines(LineFault.NO_CRC)).isOne();
  }

  @Test
  void refusesToWriteANegativeVoltageLimit() {
    HostLine open = new HostLine(7, new HeadRequest.OpenWindow(9, 4, -1));

    assertThatThrownBy(() -> RequestWriter.line(open))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("BANK_MILLI_VOLTS_MAX is -1, not 0 to 99999");
  }

  @Test
  void refusesToWriteWhatCanEnergiseForNoSession() {
    HostLine move = new HostLine(HostLine.NO_SESSION, new HeadRequest.MoveTo(500));

    assertThatThrownBy(() -> RequestWriter.line(move))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("SESSION is 0, not 1 to 65535");
  }
}
