package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import lodestep.port.Bytes;
import lodestep.port.EventIndex;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;

/** Goal: the quick way through an event's bytes never says yes where the slow way says no. */
class PayloadFormTest {

  private static final List<Bytes> PINNED = pinned();

  private static List<Bytes> pinned() {
    try (var stream = PayloadFormTest.class.getResourceAsStream("event-bytes.txt")) {
      if (stream == null) {
        throw new IllegalStateException("event-bytes.txt is missing");
      }
      return new String(stream.readAllBytes(), StandardCharsets.UTF_8)
          .lines()
          .map(Bytes::ofUtf8)
          .toList();
    } catch (IOException missing) {
      throw new IllegalStateException(missing);
    }
  }

  private static boolean surely(Bytes payload, EventIndex index) {
    return PayloadForm.of(index.kind())
        .filter(form -> payload.test(bytes -> form.surely(bytes, index)))
        .isPresent();
  }

  private static boolean slowly(Bytes payload, EventIndex index) {
    try {
      return EventCodec.index(EventCodec.decode(payload)).equals(index);
    } catch (IllegalArgumentException unreadable) {
      return false;
    }
  }

  @Test
  void saysYesToEveryKindWhoseTextsArePlain() {
    for (Bytes payload : PINNED) {
      EventIndex index = EventCodec.index(EventCodec.decode(payload));
      boolean plain = payload.utf8().chars().allMatch(c -> c < 0x80 && c != '\\');

      assertThat(surely(payload, index)).as(payload.utf8()).isEqualTo(plain);
    }
  }

  @Test
  void saysNoToAnotherIndex() {
    for (Bytes payload : PINNED) {
      EventIndex is = EventCodec.index(EventCodec.decode(payload));
      for (EventIndex other :
          List.of(
              new EventIndex(is.number() + 1, is.kind(), is.magnet(), is.wallEpochMs()),
              new EventIndex(is.number(), "tripped".equals(is.kind()) ? "x" : "tripped", 0, 0),
              new EventIndex(is.number(), is.kind(), is.magnet() + 1, is.wallEpochMs()),
              new EventIndex(is.number(), is.kind(), is.magnet(), is.wallEpochMs() - 1))) {
        assertThat(surely(payload, other)).isFalse();
      }
    }
  }

  /** Bytes are changed, doubled and taken out, mostly for others that such a text may hold. */
  @Property(tries = 20_000)
  void neverSaysYesWhereTheSlowWaySaysNo(@ForAll long seed) {
    Random random = new Random(seed);
    Bytes whole = PINNED.get(random.nextInt(PINNED.size()));
    EventIndex index = EventCodec.index(EventCodec.decode(whole));
    byte[] bytes = whole.toArray();
    String letters = "0123456789-\",:{}[]aefnrstul\\ .E+\u0001\u007f";
    for (int change = 0; change <= random.nextInt(3); change++) {
      int at = random.nextInt(bytes.length);
      byte letter = (byte) letters.charAt(random.nextInt(letters.length()));
      bytes = changed(bytes, at, letter, random.nextInt(3));
    }
    Bytes payload = Bytes.copyOf(bytes);

    if (surely(payload, index)) {
      assertThat(slowly(payload, index)).as(payload.utf8()).isTrue();
    }
  }

  private static byte[] changed(byte[] bytes, int at, byte letter, int how) {
    byte[] out = new byte[bytes.length + (how == 0 ? 0 : how == 1 ? 1 : -1)];
    System.arraycopy(bytes, 0, out, 0, at);
    if (how == 2) {
      System.arraycopy(bytes, at + 1, out, at, bytes.length - at - 1);
    } else {
      out[at] = letter;
      int from = how == 0 ? at + 1 : at;
      System.arraycopy(bytes, from, out, at + 1, bytes.length - from);
    }
    return out;
  }
}
