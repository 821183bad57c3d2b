package lodestep.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Each fault by its name, on bodies that are wrong in one way and sealed with a good CRC. */
class LineFaultTest {

  @ParameterizedTest
  @CsvSource(
      ignoreLeadingAndTrailingWhitespace = false,
      quoteCharacter = '"',
      value = {
        "BAD_FIELD,T 7 99", // one field short
        "BAD_FIELD,T 7 99 3 4", // one too many
        "BAD_FIELD,T 7 99 3 ", // a blank at the end
        "BAD_FIELD,T  7 99 3", // two blanks
        "BAD_FIELD,T7 99 3", // no blank after the type
        "BAD_FIELD,T 7 099 3", // a leading zero
        "BAD_FIELD,T 7 +99 3",
        "BAD_FIELD,T -0 99 3",
        "BAD_FIELD,T - 99 3",
        "BAD_FIELD,T 7 9x 3",
        "BAD_FIELD,T 7 99 1000000000000000000", // nineteen digits
        "OUT_OF_RANGE,T 65536 99 3",
        "OUT_OF_RANGE,T -1 99 3",
        "OUT_OF_RANGE,T 7 0 3",
        "OUT_OF_RANGE,T 7 2147483648 3",
        "OUT_OF_RANGE,T 7 99 0",
        "OUT_OF_RANGE,R 7 0 3",
        "OUT_OF_RANGE,R 7 6 3",
        "OUT_OF_RANGE,H 7 nest-4 65536 0.1 1",
        "OUT_OF_RANGE,H 7 nest-4 1 0.1 2",
        "BAD_FIELD,H 7 a-serial-of-17-ch 1 0.1 1",
        "BAD_FIELD,H 7 nest-4 1 firmware-of13 1",
        "OUT_OF_RANGE,S 0 7 0 0 8388608 0 0 0 0 0 0000",
        "OUT_OF_RANGE,S 0 7 0 256 0 0 0 0 0 0 0000",
        "OUT_OF_RANGE,S 0 7 0 0 0 32768 0 0 0 0 0000",
        "OUT_OF_RANGE,S 0 7 0 0 0 0 0 -10000 0 0 0000",
        "OUT_OF_RANGE,S 0 7 0 0 0 0 0 0 0 0 8000", // a flag nobody has defined
        "BAD_FIELD,S 0 7 0 0 0 0 0 0 0 0 00fd", // lower-case hex
        "BAD_FIELD,S 0 7 0 0 0 0 0 0 0 0 FD",
        "UNKNOWN_TYPE,Q 1 2 3",
        "UNKNOWN_TYPE,b 1 1" // a host's line, echoed
      })
  void namesWhatIsWrongInAHeadLine(LineFault fault, String body) {
    assertThat(HeadLineDecoder.decode(Lines.sealed(body)))
        .isEqualTo(new Decoded.Dropped<HeadFrame>(fault));
  }

  @ParameterizedTest
  @CsvSource({
    "OUT_OF_RANGE,b 7 65536 1",
    "OUT_OF_RANGE,b 7 1 2",
    "BAD_FIELD,b 7 1",
    "BAD_FIELD,h 1",
    "OUT_OF_RANGE,t 7 0",
    "OUT_OF_RANGE,t 0 4",
    "BAD_FIELD,t 4",
    "BAD_FIELD,t 7 1e3",
    "OUT_OF_RANGE,w 7 0 4 12500",
    "OUT_OF_RANGE,w 7 5 4 -1",
    "BAD_FIELD,w 7 5 4",
    "OUT_OF_RANGE,m 7 1000000",
    "OUT_OF_RANGE,p 0",
    "UNKNOWN_TYPE,S 1 1"
  })
  void namesWhatIsWrongInAHostLine(LineFault fault, String body) {
    assertThat(RequestDecoder.decode(Lines.sealed(body)))
        .isEqualTo(new Decoded.Dropped<HostLine>(fault));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "T", "1234", " 1234", "T 7 99 3", "T 7 99 3 12g4", "T 7 99 3 a1b2"})
  void namesALineWithoutACrc(String line) {
    assertThat(HeadLineDecoder.decode(line))
        .isEqualTo(new Decoded.Dropped<HeadFrame>(LineFault.NO_CRC));
  }

  @ParameterizedTest
  @ValueSource(strings = {"T 7 99 3 0000", "T 7 99 3  1234", "T 7 99 4 3D4E"})
  void namesACrcThatDoesNotMatch(String line) {
    assertThat(HeadLineDecoder.decode(line))
        .isEqualTo(new Decoded.Dropped<HeadFrame>(LineFault.BAD_CRC));
  }

  @ParameterizedTest
  @ValueSource(ints = {0x00, 0x07, 0x09, 0x0D, 0x1F, 0x7F, 0x80, 0x95, 0xFF})
  void namesAByteThatIsNotPrintable(int octet) {
    byte[] line = HeadLineWriter.line(new HeadFrame.TokenGrant(7, 99, 3));
    line[3] = (byte) octet;
    HeadLineDecoder decoder = new HeadLineDecoder();

    assertThat(decoder.feed(line, line.length)).isEmpty();
    assertThat(decoder.badLines(LineFault.NOT_PRINTABLE)).isOne();
  }
}
