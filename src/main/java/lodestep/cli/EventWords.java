package lodestep.cli;

import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerEvent;

/** Any event of the record in words, by the names of its own fields. */
final class EventWords {

  private EventWords() {}

  /** Its kind in words: "gauge judged". */
  static String kind(LedgerEvent event) {
    return EventCodec.kind(event.getClass()).replace('-', ' ');
  }

  /** Its fields with their values; long texts and what is empty are left out. */
  static String fields(LedgerEvent event) {
    List<String> words = new ArrayList<>();
    for (RecordComponent component : event.getClass().getRecordComponents()) {
      String value = value(event, component);
      String name = component.getName();
      boolean text = name.endsWith("Text") || name.equals("text") || name.endsWith("ha256");
      if (!value.isEmpty() && !text) {
        words.add(spaced(name) + " " + value);
      }
    }
    return String.join(", ", words);
  }

  private static String value(LedgerEvent event, RecordComponent component) {
    try {
      Object value = component.getAccessor().invoke(event);
      return value instanceof Boolean yes ? yes ? "yes" : "no" : String.valueOf(value);
    } catch (ReflectiveOperationException hidden) {
      throw new IllegalStateException("an event's field cannot be read: " + component, hidden);
    }
  }

  private static String spaced(String name) {
    return name.replaceAll("([a-z0-9])([A-Z])", "$1 $2").toLowerCase(Locale.ROOT);
  }
}
