package lodestep.ledger;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lodestep.port.EventIndex;
import lodestep.port.LedgerEvent;
import org.jspecify.annotations.Nullable;

/**
 * Reads an event's canonical bytes in one pass and makes nothing of them, for a proof of millions.
 * It says yes only where {@link EventCodec#decode} would give an event whose index is this one; to
 * whatever it says no, the slow way has to be asked. Any thread, immutable.
 */
final class PayloadForm {

  private static final Map<String, PayloadForm> BY_KIND =
      EventKind.all().values().stream()
          .map(PayloadForm::new)
          .collect(Collectors.toUnmodifiableMap(form -> form.kind, Function.identity()));

  private static final int PLACES = 256;

  /** So many bytes behind the last are looked at too, whatever they are. */
  static final int BEYOND = 32;

  /** By what a word's bytes come to; so few kinds that hardly two share a place. */
  private static final PayloadForm[][] BY_BYTES = byBytes();

  private final String kind;
  private final byte[] word;
  private final Member[] members;
  private final boolean magnetIsNumber;
  private final boolean creates;

  /** What follows a member's key; the first five are compared with the index. */
  private enum Value {
    NUMBER,
    KIND,
    AT_NS,
    WALL,
    MAGNET,
    WHOLE,
    WHOLES,
    TEXT,
    TRUTH
  }

  /**
   * A member in its place; its key stands with the separator before it and the colon behind, and
   * with the kind's word where that is its value.
   */
  private static final class Member {
    private final Value value;
    private final int size;
    private final long first;
    private final long firstMask;
    private final long second;
    private final long secondMask;
    private final byte[] rest;

    Member(String key, Value value) {
      byte[] bytes = key.getBytes(StandardCharsets.UTF_8);
      this.value = value;
      this.size = bytes.length;
      byte[] padded = Arrays.copyOf(bytes, Math.max(size, 2 * Long.BYTES));
      this.first = FormReader.word(padded, 0);
      this.firstMask = mask(size);
      this.second = FormReader.word(padded, Long.BYTES);
      this.secondMask = mask(size - Long.BYTES);
      this.rest = Arrays.copyOfRange(padded, 2 * Long.BYTES, padded.length);
    }

    /** Whether it stands there, without a branch for its length: most take up to two words. */
    boolean keyAt(byte[] bytes, int at) {
      long differs = (FormReader.word(bytes, at) ^ first) & firstMask;
      differs |= (FormReader.word(bytes, at + Long.BYTES) ^ second) & secondMask;
      int end = at + size;
      return differs == 0
          && (rest.length == 0
              || Arrays.equals(bytes, end - rest.length, end, rest, 0, rest.length));
    }

    private static long mask(int bytes) {
      return bytes <= 0 ? 0 : -1L >>> Math.max(0, Long.SIZE - bytes * Byte.SIZE);
    }
  }

  private PayloadForm(EventKind of) {
    kind = of.word();
    word = kind.getBytes(StandardCharsets.UTF_8);
    magnetIsNumber = kind.equals("magnet-named");
    creates = kind.equals(EventCodec.kind(LedgerEvent.LedgerCreated.class));
    Map<String, Class<?>> types = of.types();
    List<String> names = new ArrayList<>(types.keySet());
    names.addAll(EventKind.RESERVED);
    names.sort(Comparator.naturalOrder());
    List<Member> inOrder = new ArrayList<>();
    for (String name : names) {
      String key = (inOrder.isEmpty() ? "{" : ",") + "\"" + name + "\":";
      inOrder.add(
          name.equals(EventCodec.KIND)
              ? new Member(key + "\"" + kind + "\"", Value.KIND)
              : new Member(key, value(name, types.getOrDefault(name, String.class))));
    }
    members = inOrder.toArray(Member[]::new);
  }

  private static Value value(String name, Class<?> type) {
    return switch (name) {
      case EventCodec.NUMBER -> Value.NUMBER;
      case EventCodec.AT_NS -> Value.AT_NS;
      case EventCodec.WALL_EPOCH_MS -> Value.WALL;
      default -> {
        if (type == long.class) {
          yield name.equals(EventKind.MAGNET) ? Value.MAGNET : Value.WHOLE;
        }
        if (type == String.class) {
          yield Value.TEXT;
        }
        yield type == boolean.class ? Value.TRUTH : Value.WHOLES;
      }
    };
  }

  /** The form of this kind's bytes; none for a kind that is not known. */
  static Optional<PayloadForm> of(String kind) {
    return Optional.ofNullable(BY_KIND.get(kind));
  }

  private static PayloadForm[][] byBytes() {
    Map<Integer, List<PayloadForm>> places =
        BY_KIND.values().stream()
            .collect(Collectors.groupingBy(f -> place(f.word, 0, f.word.length)));
    return IntStream.range(0, PLACES)
        .mapToObj(place -> places.getOrDefault(place, List.of()).toArray(PayloadForm[]::new))
        .toArray(PayloadForm[][]::new);
  }

  private static int place(byte[] bytes, int from, int to) {
    int made = to - from;
    for (int at = from; at < to; at++) {
      made = 31 * made + bytes[at];
    }
    return made & (PLACES - 1);
  }

  /** The form of the kind whose word stands there in UTF-8; null for a kind that is not known. */
  static @Nullable PayloadForm of(byte[] bytes, int from, int to) {
    for (PayloadForm form : BY_BYTES[place(bytes, from, to)]) {
      if (Arrays.equals(form.word, 0, form.word.length, bytes, from, to)) {
        return form;
      }
    }
    return null;
  }

  /** The kind's word. */
  String kind() {
    return kind;
  }

  /** Whether it is the kind of a ledger's first event. */
  boolean creates() {
    return creates;
  }

  /** Whether these are surely the bytes of an event of this kind with this index. */
  boolean surely(byte[] bytes, EventIndex index) {
    byte[] longer = Arrays.copyOf(bytes, bytes.length + BEYOND);
    return surely(longer, 0, bytes.length, index.number(), index.magnet(), index.wallEpochMs());
  }

  /** The same of bytes within an array that has {@value #BEYOND} more behind them. */
  boolean surely(byte[] bytes, int from, int end, long number, long magnet, long wallEpochMs) {
    long named = magnetIsNumber ? number : 0;
    int at = from;
    for (Member member : members) {
      if (at + member.size > end || !member.keyAt(bytes, at)) {
        return false;
      }
      int value = at + member.size;
      at =
          switch (member.value) {
            case NUMBER -> FormReader.same(bytes, value, number);
            case KIND -> value;
            case AT_NS -> FormReader.nanoseconds(bytes, value);
            case WALL -> FormReader.same(bytes, value, wallEpochMs);
            case MAGNET, WHOLE -> FormReader.whole(bytes, value);
            case WHOLES -> FormReader.wholes(bytes, value, end);
            case TEXT -> FormReader.text(bytes, value, end);
            case TRUTH -> FormReader.truth(bytes, value);
          };
      if (at < 0 || at > end) {
        return false;
      }
      if (member.value == Value.MAGNET && !magnetIsNumber) {
        named = FormReader.number(bytes, value, at);
      }
    }
    return at == end - 1 && bytes[at] == '}' && magnet == named;
  }
}
