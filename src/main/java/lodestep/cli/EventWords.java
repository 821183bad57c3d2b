package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.function.LongFunction;
import java.util.stream.Collectors;
import lodestep.dial.Percent;
import lodestep.ledger.EventCodec;
import lodestep.paper.AskedWords;
import lodestep.port.LedgerEvent;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.TimeSpan;
import lodestep.quantity.Voltage;

/**
 * Any event of the record in words, by the names of its own fields, its figures in the units that a
 * person reads. Pure.
 */
final class EventWords {

  /** Numbers of other events, of which nought is none. */
  private static final Set<String> NUMBERS = Set.of("magnet", "batch", "pickup", "certificate");

  /** A unit by which a field's name ends, and how a person reads it. */
  private record Unit(String ending, LongFunction<String> words) {}

  /** The longest of two that end alike stands first. */
  private static final List<Unit> UNITS =
      List.of(
          new Unit("PartsPerMillion", parts -> Percent.words(parts * 1e-6)),
          new Unit("PpmPerKelvin", parts -> Percent.words(parts * 1e-6) + " per kelvin"),
          new Unit("Ppm", parts -> Percent.words(parts * 1e-6)),
          new Unit("MilliCounts", counts -> said("%.1f counts", counts * 1e-3)),
          new Unit("MicroTesla", field -> FluxDensity.ofMicroTesla(field).inGauss()),
          new Unit("NanoTesla", field -> said("%.2f G", field * 1e-5)),
          new Unit("MilliVolts", volts -> Voltage.ofMilliVolts(volts).written()),
          new Unit("MilliAmps", amps -> ElectricCurrent.ofMilliAmps(amps).written()),
          new Unit("CentiDegC", degrees -> Temperature.ofDegC(degrees * 1e-2).written()),
          new Unit("MilliAmperesPerMetre", field -> new FieldStrength(field * 1e-3).written()),
          new Unit("AmperesPerMetre", field -> new FieldStrength(field).written()),
          new Unit("MicroMetres", length -> Length.ofMicroMetres(length).written()),
          new Unit("MicroHenries", henries -> said("%.2f H", henries * 1e-6)),
          new Unit("Micros", time -> said("%.1f ms", time * 1e-3)),
          new Unit("Seconds", time -> new TimeSpan(time).written()),
          new Unit("Thousandths", figure -> said("%.1f", figure * 1e-3)));

  private EventWords() {}

  /** Its kind in words: "gauge judged". */
  static String kind(LedgerEvent event) {
    return EventCodec.kind(event.getClass()).replace('-', ' ');
  }

  /**
   * Its fields with their values; of long texts how long they are, and nothing of what is empty.
   */
  static String fields(LedgerEvent event) {
    List<String> words = new ArrayList<>();
    for (RecordComponent component : event.getClass().getRecordComponents()) {
      String name = component.getName();
      Object value = value(event, component);
      if (!name.endsWith("ha256")) {
        words.addAll(field(name, value));
      }
    }
    return String.join(", ", words);
  }

  private static List<String> field(String name, Object value) {
    String text = String.valueOf(value);
    if (text.isEmpty()) {
      return List.of();
    }
    if (name.endsWith("Text") || name.equals("text")) {
      return List.of("text of " + text.lines().count() + " lines (--json shows it)");
    }
    if (value instanceof Boolean yes) {
      return List.of(spaced(name) + (yes ? " yes" : " no"));
    }
    if (value instanceof Long number) {
      boolean none = number == 0 && NUMBERS.contains(name);
      return none ? List.of() : List.of(figure(name, List.of(number)));
    }
    if (value instanceof List<?> list) {
      List<Long> numbers = list.stream().map(Long.class::cast).toList();
      return numbers.isEmpty() ? List.of() : List.of(figure(name, numbers));
    }
    return List.of(spaced(name) + " " + text.replace("\n", ", "));
  }

  private static String figure(String name, List<Long> numbers) {
    if (name.equals("sizesMicroMetres")) {
      return "size " + AskedWords.size(numbers);
    }
    for (Unit unit : UNITS) {
      // "bankMilliVoltsMax" has its unit before its end.
      String bare = name.replaceFirst("Max$", "");
      if (bare.endsWith(unit.ending())) {
        String of = bare.substring(0, bare.length() - unit.ending().length());
        return (name.equals(bare) ? "" : "most ")
            + spaced(of)
            + " "
            + numbers.stream().map(unit.words()::apply).collect(Collectors.joining(", "));
      }
    }
    return spaced(name)
        + " "
        + numbers.stream().map(String::valueOf).collect(Collectors.joining(", "));
  }

  private static Object value(LedgerEvent event, RecordComponent component) {
    try {
      return component.getAccessor().invoke(event);
    } catch (ReflectiveOperationException hidden) {
      throw new IllegalStateException("an event's field cannot be read: " + component, hidden);
    }
  }

  private static String spaced(String name) {
    return name.replaceAll("([a-z0-9])([A-Z])", "$1 $2").toLowerCase(Locale.ROOT);
  }
}
