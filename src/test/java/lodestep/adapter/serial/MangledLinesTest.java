package lodestep.adapter.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import lodestep.port.Bytes;
import lodestep.protocol.HeadFrame;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: of lines that were flipped, cut or run together on their way none is believed, and the next
 * whole one is. Method: a real terminal pair, and a cable that does that to every third line or so,
 * from a seed.
 */
class MangledLinesTest {

  private static final long SEED = 77;
  private static final int LINES = 600;
  private static final int LAST = 60_000;

  private final PtyPair cable;

  MangledLinesTest(@TempDir Path folder) {
    this.cable = PtyPair.in(folder);
  }

  @AfterEach
  void leaveNothing() {
    cable.close();
  }

  /** What the cable made of the lines, and which of them came through whole. */
  private record Mangled(Bytes sent, List<Integer> whole) {
    static Mangled of(SplittableRandom random) {
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      List<Integer> whole = new ArrayList<>();
      boolean cutBefore = false;
      for (int sequence = 1; sequence <= LINES; sequence++) {
        byte[] line = StatusLine.numbered(sequence);
        int drawn = random.nextInt(9);
        if (drawn == 0) {
          line[random.nextInt(line.length)] ^= (byte) (1 << random.nextInt(7));
        } else if (drawn == 1) {
          line = Arrays.copyOf(line, random.nextInt(line.length));
        } else if (drawn == 2) {
          line = Arrays.copyOfRange(line, random.nextInt(line.length - 1) + 1, line.length);
        } else if (!cutBefore) {
          whole.add(sequence);
        }
        cutBefore = line.length == 0 ? cutBefore : line[line.length - 1] != '\n';
        bytes.writeBytes(line);
      }
      bytes.write('\n');
      bytes.writeBytes(StatusLine.numbered(LAST));
      whole.add(LAST);
      return new Mangled(Bytes.copyOf(bytes.toByteArray()), whole);
    }
  }

  @Test
  void believesNoLineThatWasFlippedCutOrJoined() {
    Mangled mangled = Mangled.of(new SplittableRandom(SEED));
    byte[] sent = mangled.sent().toArray();
    HandClock clock = new HandClock();
    List<Integer> got = new ArrayList<>();
    try (SerialHeadLink link = SerialHeadLink.to(cable.near(), clock)) {
      Polling.until("the port to open", () -> link.state(clock.nowNs()).open());
      for (int from = 0; from < sent.length; from += 512) {
        int to = Math.min(from + 512, sent.length);
        cable.write(Arrays.copyOfRange(sent, from, to));
        Polling.until("what was sent", () -> link.receivedBytes() == to);
        link.take().forEach(frame -> got.add(((HeadFrame.Status) frame.frame()).sequence()));
      }
      Polling.until(
          "the last line",
          () -> {
            link.take().forEach(frame -> got.add(((HeadFrame.Status) frame.frame()).sequence()));
            return got.contains(LAST);
          });

      assertThat(got).isEqualTo(mangled.whole());
      assertThat(link.state(clock.nowNs()).badLines()).as("counted").isGreaterThan(100);
    }
  }
}
