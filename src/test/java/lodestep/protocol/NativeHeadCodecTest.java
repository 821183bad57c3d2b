package lodestep.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import lodestep.firmware.NativeHead;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.Size;

/**
 * Goal: the head's firmware and the host speak the same lines, byte for byte, and drop the same.
 * Method: many lines of every kind over their whole range through both.
 */
class NativeHeadCodecTest {

  private static final int CRC_TAIL = 6;

  @Provide
  Arbitrary<List<HeadFrame>> manyFrames() {
    return Lines.frames().list().ofSize(600);
  }

  @Provide
  Arbitrary<List<HostLine>> manyRequests() {
    return Lines.hostLines().list().ofSize(300);
  }

  @Property(tries = 3)
  void writesEveryLineAsTheHostDoes(@ForAll("manyFrames") List<HeadFrame> frames)
      throws IOException {
    StringBuilder bodies = new StringBuilder();
    ByteArrayOutputStream lines = new ByteArrayOutputStream();
    for (HeadFrame frame : frames) {
      byte[] line = HeadLineWriter.line(withOurVersion(frame));
      lines.writeBytes(line);
      bodies.append(body(line)).append('\n');
    }

    byte[] written = answer("frames", bodies.toString().getBytes(StandardCharsets.US_ASCII));

    assertThat(new String(written, StandardCharsets.US_ASCII))
        .isEqualTo(lines.toString(StandardCharsets.US_ASCII));
  }

  /** The firmware writes its own version, window and cap, and no others. */
  private static HeadFrame withOurVersion(HeadFrame frame) {
    if (frame instanceof HeadFrame.Build build) {
      return new HeadFrame.Build(
          build.bootId(),
          build.pitchNanoMetres(),
          build.stepsPerTurn(),
          build.travelMicroMetres(),
          build.microMetresPerSecond(),
          300,
          51_000,
          build.coilCentiDegCMax());
    }
    return frame instanceof HeadFrame.Hello hello
        ? new HeadFrame.Hello(
            hello.bootId(),
            hello.serialNumber(),
            HeadFrame.PROTOCOL_VERSION,
            hello.firmwareVersion(),
            hello.watchdogProven())
        : frame;
  }

  /** Good lines, with flips, cuts, noise and stops between and within them. */
  @Property(tries = 3)
  void takesAndDropsTheSameLinesAsTheHostsOwnReader(
      @ForAll("manyRequests") List<HostLine> requests, @ForAll long seed) throws IOException {
    byte[] bytes = damaged(requests, new SplittableRandom(seed));

    String said = new String(answer("requests", bytes), StandardCharsets.US_ASCII);

    assertThat(said.lines().toList()).isEqualTo(asTheHostReads(bytes));
  }

  @Property(tries = 3)
  void takesAnyBytesAtAll(@ForAll @Size(5_000) byte[] bytes) throws IOException {
    String said = new String(answer("requests", bytes), StandardCharsets.US_ASCII);

    assertThat(said.lines().toList()).isEqualTo(asTheHostReads(bytes));
  }

  private static byte[] damaged(List<HostLine> requests, SplittableRandom random) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    for (HostLine request : requests) {
      byte[] line = RequestWriter.line(request);
      switch (random.nextInt(8)) {
        case 0 -> line[random.nextInt(line.length)] ^= (byte) (1 << random.nextInt(8));
        case 1 -> bytes.write(HeadRequest.STOP_BYTE);
        case 2 -> line[random.nextInt(line.length)] = HeadRequest.STOP_BYTE;
        case 3 -> bytes.writeBytes("7".repeat(random.nextInt(200)).getBytes(latin1()));
        case 4 -> bytes.write('\n');
        default -> {}
      }
      bytes.write(line, 0, random.nextInt(12) == 0 ? random.nextInt(line.length) : line.length);
    }
    bytes.write('\n');
    return bytes.toByteArray();
  }

  /** Byte by byte, so that stops and requests keep their order. */
  private static List<String> asTheHostReads(byte[] bytes) {
    RequestDecoder decoder = new RequestDecoder();
    List<String> read = new ArrayList<>();
    for (byte octet : bytes) {
      RequestDecoder.Received got = decoder.feed(new byte[] {octet}, 1);
      if (got.stop()) {
        read.add("stop");
      }
      got.lines().forEach(request -> read.add(body(RequestWriter.line(request))));
    }
    read.add("bad " + decoder.badLines());
    return read;
  }

  private static byte[] answer(String way, byte[] input) throws IOException {
    Path folder = Files.createTempDirectory("native-head");
    try {
      return NativeHead.builtIn(folder).answer(way, input);
    } finally {
      Files.deleteIfExists(folder.resolve("native-head"));
      Files.delete(folder);
    }
  }

  private static String body(byte[] line) {
    return new String(line, 0, line.length - CRC_TAIL, StandardCharsets.US_ASCII);
  }

  private static java.nio.charset.Charset latin1() {
    return StandardCharsets.ISO_8859_1;
  }
}
