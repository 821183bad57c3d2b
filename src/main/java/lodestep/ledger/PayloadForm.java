package lodestep.ledger;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import lodestep.port.EventIndex;

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

  /** Digits that surely fit a {@code long}. */
  private static final int NANOSECOND_DIGITS_MAX = 18;

  private final String kind;
  private final List<Member> members;
  private final boolean magnetIsNumber;

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
    magnetIsNumber = kind.equals("magnet-named");
    Map<String, Class<?>> types = of.types();
    List<String> names = new ArrayList<>(types.keySet());
    names.addAll(EventKind.RESERVED);
    names.sort(Comparator.naturalOrder());
    members = new ArrayList<>();
    for (String name : names) {
      String key = (members.isEmpty() ? "{" : ",") + "\"" + name + "\":";
      members.add(
          new Member(
              key,
              role(name),
              types.getOrDefault(name, String.class),
              name.equals(EventCodec.KIND) ? "\"" + kind + "\"" : ""));
    }
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

  /** Whether these are surely the bytes of an event of this kind with this index. */
  boolean surely(byte[] bytes, EventIndex index) {
    Reader reader = new Reader(bytes);
    long magnet = 0;
    for (Member member : members) {
      boolean read =
          reader.same(member.key)
              && switch (member.role) {
                case NUMBER -> reader.whole() && reader.value == index.number();
                case KIND -> reader.same(member.value);
                case AT_NS -> reader.nanoseconds();
                case WALL -> reader.whole() && reader.value == index.wallEpochMs();
                case MAGNET, NONE -> reader.plain(member.type);
              };
      if (!read) {
        return false;
      }
      if (member.role == Role.MAGNET && member.type == long.class) {
        magnet = reader.value;
      }
    }
    return reader.ends() && index.magnet() == (magnetIsNumber ? index.number() : magnet);
  }

  /** Goes through the bytes once. */
  private static final class Reader {

    private final byte[] bytes;
    private int at;
    private long value;

    Reader(byte[] bytes) {
      this.bytes = bytes;
    }

    boolean same(byte[] wanted) {
      int end = at + wanted.length;
      if (end > bytes.length) {
        return false;
      }
      for (int i = 0; i < wanted.length; i++) {
        if (bytes[at + i] != wanted[i]) {
          return false;
        }
      }
      at = end;
      return true;
    }

    private boolean same(char wanted) {
      if (at < bytes.length && bytes[at] == wanted) {
        at++;
        return true;
      }
      return false;
    }

    boolean ends() {
      return same('}') && at == bytes.length;
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
      while (at < bytes.length && bytes[at] >= '0' && bytes[at] <= '9' && at - from < most) {
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
      while (at < bytes.length && bytes[at] >= ' ' && bytes[at] != '"' && bytes[at] != '\\') {
        at++;
      }
      return same('"');
    }

    private static final byte[] TRUE = {'t', 'r', 'u', 'e'};
    private static final byte[] FALSE = {'f', 'a', 'l', 's', 'e'};
  }
}
