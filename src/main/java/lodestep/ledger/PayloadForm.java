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

  /** Digits that surely stand for a whole number that a record may hold. */
  private static final int DIGITS_MAX = 15;

  private static final int PLACES = 256;

  /** Digits that surely fit a {@code long}. */
  private static final int NANOSECOND_DIGITS_MAX = 18;

  /** By what a word's bytes come to; so few kinds that hardly two share a place. */
  private static final PayloadForm[][] BY_BYTES = byBytes();

  private final String kind;
  private final byte[] word;
  private final Member[] members;
  private final boolean magnetIsNumber;
  private final boolean creates;

  /** What a member of the object is to the index. */
  private enum Role {
    NUMBER,
    KIND,
    AT_NS,
    WALL,
    MAGNET,
    NONE
  }

  /** A member in its place; its key stands with the separator before it and the colon behind. */
  private static final class Member {
    private final byte[] key;
    private final Role role;
    private final Class<?> type;
    private final byte[] value;

    Member(String key, Role role, Class<?> type, String value) {
      this.key = key.getBytes(StandardCharsets.UTF_8);
      this.role = role;
      this.type = type;
      this.value = value.getBytes(StandardCharsets.UTF_8);
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
          new Member(
              key,
              role(name),
              types.getOrDefault(name, String.class),
              name.equals(EventCodec.KIND) ? "\"" + kind + "\"" : ""));
    }
    members = inOrder.toArray(Member[]::new);
  }

  private static Role role(String name) {
    return switch (name) {
      case EventCodec.NUMBER -> Role.NUMBER;
      case EventCodec.KIND -> Role.KIND;
      case EventCodec.AT_NS -> Role.AT_NS;
      case EventCodec.WALL_EPOCH_MS -> Role.WALL;
      case EventKind.MAGNET -> Role.MAGNET;
      default -> Role.NONE;
    };
  }

  /** The form of this kind's bytes; none for a kind that is not known. */
  static Optional<PayloadForm> of(String kind) {
    return Optional.ofNullable(BY_KIND.get(kind));
  }

  private static PayloadForm[][] byBytes() {
    Map<Integer, List<PayloadForm>> places =
        BY_KIND.values().stream().collect(Collectors.groupingBy(f -> place(f.word, 0, f.word.length)));
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
    return surely(
        new Reader().of(bytes, 0, bytes.length),
        index.number(),
        index.magnet(),
        index.wallEpochMs());
  }

  /** The same of what this reader was given. */
  boolean surely(Reader reader, long number, long magnet, long wallEpochMs) {
    long named = magnetIsNumber ? number : 0;
    for (Member member : members) {
      boolean read =
          reader.same(member.key)
              && switch (member.role) {
                case NUMBER -> reader.whole() && reader.value == number;
                case KIND -> reader.same(member.value);
                case AT_NS -> reader.nanoseconds();
                case WALL -> reader.whole() && reader.value == wallEpochMs;
                case MAGNET, NONE -> reader.plain(member.type);
              };
      if (!read) {
        return false;
      }
      if (member.role == Role.MAGNET && member.type == long.class && !magnetIsNumber) {
        named = reader.value;
      }
    }
    return reader.ends() && magnet == named;
  }

  /** Goes through the bytes once. */
  static final class Reader {

    private byte[] bytes = {};
    private int at;
    private int end;
    private long value;

    /** Begins anew with these bytes. */
    Reader of(byte[] given, int from, int to) {
      bytes = given;
      at = from;
      end = to;
      return this;
    }

    boolean same(byte[] wanted) {
      int behind = at + wanted.length;
      if (behind > end || !Arrays.equals(bytes, at, behind, wanted, 0, wanted.length)) {
        return false;
      }
      at = behind;
      return true;
    }

    private boolean same(char wanted) {
      if (at < end && bytes[at] == wanted) {
        at++;
        return true;
      }
      return false;
    }

    boolean ends() {
      return same('}') && at == end;
    }

    boolean plain(Class<?> type) {
      if (type == long.class) {
        return whole();
      }
      if (type == String.class) {
        return text();
      }
      return type == boolean.class ? truth() : wholes();
    }

    boolean whole() {
      return digits(DIGITS_MAX);
    }

    /** As few digits as can be: no zero before another, and no minus before zero alone. */
    private boolean digits(int most) {
      boolean minus = same('-');
      int from = at;
      value = 0;
      while (at < end && bytes[at] >= '0' && bytes[at] <= '9' && at - from < most) {
        value = value * 10 + (bytes[at] - '0');
        at++;
      }
      int count = at - from;
      boolean fewest = count == 1 || (count > 1 && bytes[from] != '0');
      boolean canonical = fewest && !(minus && value == 0);
      value = minus ? -value : value;
      return canonical;
    }

    boolean nanoseconds() {
      return same('"') && digits(NANOSECOND_DIGITS_MAX) && same('"');
    }

    private boolean wholes() {
      if (!same('[')) {
        return false;
      }
      if (same(']')) {
        return true;
      }
      boolean more = true;
      while (more) {
        if (!whole()) {
          return false;
        }
        more = same(',');
      }
      return same(']');
    }

    private boolean truth() {
      return same(TRUE) || same(FALSE);
    }

    /** Plain ASCII without escapes; texts with more in them are for the slow way. */
    private boolean text() {
      if (!same('"')) {
        return false;
      }
      while (at < end && bytes[at] >= ' ' && bytes[at] != '"' && bytes[at] != '\\') {
        at++;
      }
      return same('"');
    }

    private static final byte[] TRUE = {'t', 'r', 'u', 'e'};
    private static final byte[] FALSE = {'f', 'a', 'l', 's', 'e'};
  }
}
