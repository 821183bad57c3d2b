package lodestep.ledger;

import java.time.Instant;
import java.util.SortedMap;
import java.util.TreeMap;
import lodestep.port.Bytes;
import lodestep.port.EventDraft;
import lodestep.port.EventIndex;
import lodestep.port.LedgerEvent;
import lodestep.port.StoredEvent;

/**
 * Events as canonical bytes and back. The form is described in the package's documentation. Any
 * thread, no state.
 */
public final class EventCodec {

  static final String NUMBER = "number";
  static final String KIND = "kind";
  static final String AT_NS = "atNs";
  static final String WALL_EPOCH_MS = "wallEpochMs";

  private EventCodec() {}

  /** The word that stands for this kind of event in records, for example {@code tripped}. */
  public static String kind(Class<? extends LedgerEvent> type) {
    return EventKind.of(type).word();
  }

  /** Whether this word stands for a kind of event that this program knows. */
  public static boolean knows(String kind) {
    return EventKind.all().containsKey(kind);
  }

  /**
   * The canonical bytes of an event.
   *
   * @param number the event's number, from 1
   * @throws IllegalArgumentException naming the kind, if a number is beyond &plusmn;(2<sup>53</sup>
   *     &minus; 1) or a text holds half a surrogate pair
   */
  public static Bytes encode(long number, EventDraft draft) {
    EventKind kind = EventKind.of(draft.event());
    try {
      SortedMap<String, JsonValue> members = new TreeMap<>();
      kind.takeApart(draft.event(), members);
      members.put(NUMBER, new JsonValue.Whole(number));
      members.put(KIND, new JsonValue.Text(kind.word()));
      members.put(AT_NS, new JsonValue.Text(Long.toString(draft.atNs())));
      members.put(WALL_EPOCH_MS, new JsonValue.Whole(draft.wall().toEpochMilli()));
      return CanonicalJson.write(members);
    } catch (IllegalArgumentException unfit) {
      throw new IllegalArgumentException(
          "event " + number + " (" + kind.word() + ") cannot be recorded: " + unfit.getMessage(),
          unfit);
    }
  }

  /**
   * The event these bytes stand for.
   *
   * @throws IllegalArgumentException if they are not exactly what {@link #encode} makes
   */
  public static LedgerEntry decode(Bytes payload) {
    SortedMap<String, JsonValue> members = CanonicalJson.read(payload);
    long number = take(members, NUMBER, JsonValue.Whole.class).value();
    String word = take(members, KIND, JsonValue.Text.class).value();
    long atNs = nanoseconds(take(members, AT_NS, JsonValue.Text.class).value());
    long wall = take(members, WALL_EPOCH_MS, JsonValue.Whole.class).value();
    EventKind kind = EventKind.all().get(word);
    if (kind == null) {
      throw new IllegalArgumentException("'" + word + "' is no kind of event");
    }
    return new LedgerEntry(number, kind.putTogether(members), atNs, Instant.ofEpochMilli(wall));
  }

  /**
   * The stored event, read back.
   *
   * @throws IllegalArgumentException as {@link #decode(Bytes)}
   */
  public static LedgerEntry decode(StoredEvent stored) {
    return decode(stored.payload());
  }

  /** What of this entry stands beside its bytes. */
  public static EventIndex index(LedgerEntry entry) {
    return index(entry.number(), entry.event(), entry.wall());
  }

  /** What of this event stands beside its bytes, once it has this number. */
  static EventIndex index(long number, LedgerEvent event, Instant wall) {
    EventKind kind = EventKind.of(event);
    return new EventIndex(number, kind.word(), magnet(number, event), wall.toEpochMilli());
  }

  /** The magnet's number is the number of the event that names it. */
  private static long magnet(long number, LedgerEvent event) {
    return event instanceof LedgerEvent.MagnetNamed ? number : EventKind.of(event).magnet(event);
  }

  private static long nanoseconds(String text) {
    long value = Long.parseLong(text);
    if (!Long.toString(value).equals(text)) {
      throw new IllegalArgumentException("'" + text + "' is another way to write " + value);
    }
    return value;
  }

  private static <V extends JsonValue> V take(
      SortedMap<String, JsonValue> members, String name, Class<V> type) {
    JsonValue value = members.remove(name);
    if (!type.isInstance(value)) {
      throw new IllegalArgumentException("the event has no '" + name + "' of the right type");
    }
    return type.cast(value);
  }
}
