package lodestep.protocol;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.From;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;

/**
 * Goal: what a head sends arrives unchanged, or does not arrive. Method: every message over its
 * whole range, every single bit flipped, lines cut, joined and mixed with noise.
 */
class HeadLineCodecTest {

  private static final HeadFrame AFTER = new HeadFrame.TokenGrant(7, 99, 3);

  @Provide
  Arbitrary<HeadFrame> frames() {
    return Lines.frames();
  }

  @Property
  void comesBackAsItWasWritten(@ForAll("frames") HeadFrame frame) {
    byte[] line = HeadLineWriter.line(frame);

    HeadLineDecoder decoder = new HeadLineDecoder();

    assertThat(decoder.feed(line, line.length)).containsExactly(frame);
    assertThat(decoder.badLines()).isZero();
  }

  @Property
  void fitsTheLineAndIsPrintable(@ForAll("frames") HeadFrame frame) {
    byte[] line = HeadLineWriter.line(frame);

    assertThat(line.length).isLessThanOrEqualTo(HeadFrame.LINE_BYTES_MAX);
    assertThat(line[line.length - 1]).isEqualTo((byte) '\n');
    assertThat(new String(line, latin1())).matches("[ -~]+\n");
  }

  @Test
  void fitsTheLineAtTheExtremesOfEveryField() {
    assertThat(Lines.longest())
        .allSatisfy(line -> assertThat(line.length).isLessThanOrEqualTo(HeadFrame.LINE_BYTES_MAX));
    assertThat(Lines.longest().get(0)).as("the longest line of all").hasSize(87);
  }

  @Property(tries = 100)
  void isRejectedWhenAnySingleBitFlips(@ForAll("frames") HeadFrame frame) {
    byte[] line = HeadLineWriter.line(frame);
    byte[] after = HeadLineWriter.line(AFTER);

    for (int bit = 0; bit < line.length * 8; bit++) {
      byte[] bytes = Lines.joined(line, after);
      bytes[bit / 8] ^= (byte) (1 << (bit % 8));
      HeadLineDecoder decoder = new HeadLineDecoder();
      List<HeadFrame> got = decoder.feed(bytes, bytes.length);

      // A flip of the line end joins the two lines and costs both; every other costs only one.
      boolean lineEnd = bit / 8 == line.length - 1;
      assertThat(got).as("bit %d", bit).isEqualTo(lineEnd ? List.of() : List.of(AFTER));
      assertThat(decoder.badLines()).as("bit %d", bit).isPositive();
    }
  }

  @Test
  void isRejectedWhenAnyTwoBitsFlip() {
    byte[] line =
        HeadLineWriter.line(
            new HeadFrame.Status(
                512, 40_213, 61_230, 200, -1_834, 2_312, 2_405, 12_503, 0, 0, 0xFD));

    for (int first = 0; first < line.length * 8 - 8; first++) {
      for (int second = first + 1; second < line.length * 8 - 8; second++) {
        byte[] bytes = line.clone();
        bytes[first / 8] ^= (byte) (1 << (first % 8));
        bytes[second / 8] ^= (byte) (1 << (second % 8));

        if (!new HeadLineDecoder().feed(bytes, bytes.length).isEmpty()) {
          throw new AssertionError("accepted with bits " + first + " and " + second + " flipped");
        }
      }
    }
  }

  @Property
  void arrivesInWhateverPiecesTheLineDelivers(
      @ForAll @Size(min = 1, max = 8) List<@From("frames") HeadFrame> frames,
      @ForAll @IntRange(min = 1, max = 40) int piece) {
    byte[] bytes = Lines.joined(frames.stream().map(HeadLineWriter::line).toArray(byte[][]::new));

    HeadLineDecoder decoder = new HeadLineDecoder();
    List<HeadFrame> got = new ArrayList<>();
    for (int at = 0; at < bytes.length; at += piece) {
      byte[] part = Arrays.copyOfRange(bytes, at, Math.min(bytes.length, at + piece));
      got.addAll(decoder.feed(part, part.length));
    }

    assertThat(got).isEqualTo(frames);
  }

  @Property
  void findsTheNextLineAfterAnyGarbage(@ForAll byte[] garbage, @ForAll("frames") HeadFrame frame) {
    byte[] bytes = Lines.joined(garbage, new byte[] {'\n'}, HeadLineWriter.line(frame));

    List<HeadFrame> got = new HeadLineDecoder().feed(bytes, bytes.length);

    assertThat(got).containsExactly(frame);
  }

  @Property
  void dropsBothOfTwoMergedLines(
      @ForAll("frames") HeadFrame first,
      @ForAll("frames") HeadFrame second,
      @ForAll @IntRange(min = 1, max = 99) int kept) {
    byte[] head = HeadLineWriter.line(first);
    byte[] cut = Arrays.copyOf(head, Math.min(kept, head.length - 1));
    byte[] bytes = Lines.joined(cut, HeadLineWriter.line(second));

    HeadLineDecoder decoder = new HeadLineDecoder();

    assertThat(decoder.feed(bytes, bytes.length)).isEmpty();
    assertThat(decoder.badLines()).isOne();
  }

  @Test
  void countsALineThatNeverEndsOnce() {
    HeadLineDecoder decoder = new HeadLineDecoder();
    byte[] flood = "A".repeat(5_000).getBytes(StandardCharsets.US_ASCII);
    byte[] good = Lines.joined(new byte[] {'\n'}, HeadLineWriter.line(AFTER));

    decoder.feed(flood, flood.length);

    assertThat(decoder.feed(good, good.length)).containsExactly(AFTER);
    assertThat(decoder.badLines(LineFault.TOO_LONG)).isOne();
    assertThat(decoder.badLines()).isOne();
  }

  @Test
  void acceptsNinetyNineCharactersAndRefusesOneMore() {
    HeadLineDecoder decoder = new HeadLineDecoder();
    byte[] longest = (Lines.sealed("Z" + " 7".repeat(46) + "7") + "\n").getBytes(latin1());
    byte[] tooLong = (Lines.sealed("Z" + " 7".repeat(46) + "77") + "\n").getBytes(latin1());

    decoder.feed(longest, longest.length);
    decoder.feed(tooLong, tooLong.length);

    assertThat(longest).hasSize(HeadFrame.LINE_BYTES_MAX);
    assertThat(decoder.badLines(LineFault.UNKNOWN_TYPE)).as("understood as a line").isOne();
    assertThat(decoder.badLines(LineFault.TOO_LONG)).isOne();
  }

  @Test
  void takesAnEmptyLineForNothing() {
    HeadLineDecoder decoder = new HeadLineDecoder();

    assertThat(decoder.feed(new byte[] {'\n', '\n'}, 2)).isEmpty();
    assertThat(decoder.badLines()).isZero();
  }

  @Test
  void doesNotCountTheFragmentAfterARestartButTheNextBadLine() {
    HeadLineDecoder decoder = new HeadLineDecoder();
    decoder.feed(new byte[] {'S', ' '}, 2);
    decoder.restart();
    byte[] bytes = "34 5 00FD 1A2B\nanother bad one\n".getBytes(latin1());

    decoder.feed(bytes, bytes.length);

    assertThat(decoder.badLines()).isOne();
  }

  @Test
  void takesAWholeFirstLineAfterARestart() {
    HeadLineDecoder decoder = new HeadLineDecoder();
    decoder.restart();
    byte[] line = HeadLineWriter.line(AFTER);

    assertThat(decoder.feed(line, line.length)).containsExactly(AFTER);
  }

  @Test
  void refusesToWriteAFieldOutOfRangeAndNamesIt() {
    HeadFrame grant = new HeadFrame.TokenGrant(7, 0, 3);

    assertThatThrownBy(() -> HeadLineWriter.line(grant))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("TOKEN is 0, not 1 to 2147483647");
  }

  @Test
  void refusesToWriteAWordWithABlank() {
    HeadFrame hello = new HeadFrame.Hello(7, "nest one", 1, "1.0", true);

    assertThatThrownBy(() -> HeadLineWriter.line(hello))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("'nest one'");
  }

  private static Charset latin1() {
    return StandardCharsets.ISO_8859_1;
  }
}
