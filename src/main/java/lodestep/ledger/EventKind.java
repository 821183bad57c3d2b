package lodestep.ledger;

import java.lang.reflect.Constructor;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.lang.reflect.RecordComponent;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lodestep.port.LedgerEvent;

/**
 * One kind of event: its word, and how its record is taken apart and put together again. The word
 * is the record's name in lower case with hyphens; the fields are the record's components by their
 * names. Both stand in records for years, so a test pins the bytes of every kind.
 */
final class EventKind {

  /** Member names that every event has; no event may use one for a field of its own. */
  static final Set<String> RESERVED =
      Set.of(EventCodec.NUMBER, EventCodec.KIND, EventCodec.AT_NS, EventCodec.WALL_EPOCH_MS);

  /** The field by which an event is about a magnet. */
  static final String MAGNET = "magnet";

  private static final Map<Class<?>, Function<Object, JsonValue>> VALUES =
      Map.of(
          String.class, plain -> new JsonValue.Text((String) plain),
          long.class, plain -> new JsonValue.Whole((Long) plain),
          boolean.class, plain -> new JsonValue.Truth((Boolean) plain),
          List.class, plain -> new JsonValue.Wholes(wholes(plain)));

  private static final Map<Class<?>, Class<? extends JsonValue>> TYPES =
      Map.of(
          String.class, JsonValue.Text.class,
          long.class, JsonValue.Whole.class,
          boolean.class, JsonValue.Truth.class,
          List.class, JsonValue.Wholes.class);

  private static final Map<Class<?>, EventKind> BY_TYPE =
      kinds(LedgerEvent.class)
          .collect(Collectors.toUnmodifiableMap(Function.identity(), EventKind::new));

  private static final Map<String, EventKind> BY_WORD =
      BY_TYPE.values().stream()
          .collect(Collectors.toUnmodifiableMap(EventKind::word, Function.identity()));

  private final String word;
  private final List<Field> fields;
  private final Constructor<?> constructor;

  /** A component of the record. */
  private record Field(String name, Class<?> type, Method accessor) {}

  private EventKind(Class<?> type) {
    word = type.getSimpleName().replaceAll("(?<=[a-z])(?=[A-Z])", "-").toLowerCase(Locale.ROOT);
    fields = Arrays.stream(type.getRecordComponents()).map(EventKind::field).toList();
    try {
      constructor = type.getConstructor(fields.stream().map(Field::type).toArray(Class<?>[]::new));
    } catch (NoSuchMethodException hidden) {
      throw new IllegalStateException("the event " + type + " cannot be made", hidden);
    }
  }

  /** The records below this type; a sealed interface in between only groups some of them. */
  static Stream<Class<?>> kinds(Class<?> type) {
    return type.isInterface()
        ? Stream.of(type.getPermittedSubclasses()).flatMap(EventKind::kinds)
        : Stream.of(type);
  }

  private static Field field(RecordComponent component) {
    if (!TYPES.containsKey(component.getType()) || RESERVED.contains(component.getName())) {
      throw new IllegalStateException("no record can hold the field " + component);
    }
    return new Field(component.getName(), component.getType(), component.getAccessor());
  }

  /** All kinds by their words. */
  static Map<String, EventKind> all() {
    return BY_WORD;
  }

  /** The kind of this event. */
  static EventKind of(LedgerEvent event) {
    EventKind kind = BY_TYPE.get(event.getClass());
    if (kind == null) {
      throw new IllegalStateException("no kind of event: " + event.getClass());
    }
    return kind;
  }

  /** The kind of this record type. */
  static EventKind of(Class<? extends LedgerEvent> type) {
    return Optional.ofNullable(BY_TYPE.get(type))
        .orElseThrow(() -> new IllegalArgumentException(type + " is no kind of event"));
  }

  /** The types of its own fields, by their names. */
  Map<String, Class<?>> types() {
    return fields.stream().collect(Collectors.toUnmodifiableMap(Field::name, Field::type));
  }

  /** The kind's word in records. */
  String word() {
    return word;
  }

  /**
   * Adds the event's fields to the members.
   *
   * @throws IllegalArgumentException if a number is too large for a record
   */
  void takeApart(LedgerEvent event, SortedMap<String, JsonValue> members) {
    for (Field field : fields) {
      members.put(field.name(), value(field, event));
    }
  }

  /** The event's field {@code magnet}; 0 if the kind has none. */
  long magnet(LedgerEvent event) {
    for (Field field : fields) {
      if (field.name().equals(MAGNET) && value(field, event) instanceof JsonValue.Whole magnet) {
        return magnet.value();
      }
    }
    return 0;
  }

  private static JsonValue value(Field field, LedgerEvent event) {
    Function<Object, JsonValue> wrap = VALUES.get(field.type());
    if (wrap == null) {
      throw new IllegalStateException("no record can hold the field " + field);
    }
    try {
      return wrap.apply(field.accessor().invoke(event));
    } catch (ReflectiveOperationException hidden) {
      throw new IllegalStateException("the field " + field + " cannot be read", hidden);
    }
  }

  /**
   * The event with these members, of which the common ones have been taken out.
   *
   * @throws IllegalArgumentException if a field is missing, of another type or not this kind's
   */
  LedgerEvent putTogether(Map<String, JsonValue> members) {
    if (members.size() != fields.size()) {
      throw new IllegalArgumentException(
          "a " + word + " has " + fields.size() + " fields, not " + members.size());
    }
    Object[] plain = fields.stream().map(field -> plain(field, members)).toArray();
    try {
      return (LedgerEvent) constructor.newInstance(plain);
    } catch (InvocationTargetException refused) {
      throw new IllegalArgumentException("a " + word + " cannot hold these fields", refused);
    } catch (ReflectiveOperationException hidden) {
      throw new IllegalStateException("a " + word + " cannot be made", hidden);
    }
  }

  private Object plain(Field field, Map<String, JsonValue> members) {
    JsonValue value = members.get(field.name());
    if (value == null || value.getClass() != TYPES.get(field.type())) {
      throw new IllegalArgumentException(
          "a " + word + " has a field '" + field.name() + "' of another type");
    }
    return value.plain();
  }

  private static List<Long> wholes(Object plain) {
    return ((List<?>) plain).stream().map(Long.class::cast).toList();
  }
}
