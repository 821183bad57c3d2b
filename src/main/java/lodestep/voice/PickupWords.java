package lodestep.voice;

import java.util.EnumMap;
import java.util.Map;
import java.util.function.Function;
import lodestep.paper.BuildNotes;
import lodestep.port.StockEvent.BuildDescribed;
import lodestep.port.StockEvent.BuildNoted;

/**
 * A pickup as a person describes it: what was said, in the words it was said in; nothing of it has
 * been read yet. Any thread, immutable.
 *
 * @param said only what was said, without blanks at its ends
 */
public record PickupWords(Map<Said, String> said) {

  public PickupWords {
    EnumMap<Said, String> plain = new EnumMap<>(Said.class);
    said.forEach(
        (field, words) -> {
          if (!words.isBlank()) {
            plain.put(field, words.strip());
          }
        });
    said = Map.copyOf(plain);
  }

  /** What is asked field by field; null or empty where nothing was said. */
  public static PickupWords of(Function<Said, String> asked) {
    EnumMap<Said, String> said = new EnumMap<>(Said.class);
    for (Said field : Said.values()) {
      said.put(field, asked.apply(field));
    }
    return new PickupWords(said);
  }

  /** What was said of it, or what is usual; empty where neither is. */
  public String get(Said field) {
    return said.getOrDefault(field, field.usual());
  }

  /** Whether anything was said of it. */
  public boolean says(Said field) {
    return said.containsKey(field);
  }

  /** With this said of it, whatever was said before. */
  PickupWords with(Said field, String words) {
    return new PickupWords(Map.of(field, words)).or(this);
  }

  /** Without what was said of this. */
  PickupWords without(Said field) {
    Map<Said, String> rest = new EnumMap<>(Said.class);
    said.forEach(
        (each, words) -> {
          if (each != field) {
            rest.put(each, words);
          }
        });
    return new PickupWords(rest);
  }

  /** With what was said elsewhere where nothing is said here. */
  public PickupWords or(PickupWords elsewhere) {
    Map<Said, String> both = new EnumMap<>(Said.class);
    both.putAll(elsewhere.said);
    both.putAll(said);
    return new PickupWords(both);
  }

  /** What a past build's note, and its description if it has one, say. */
  public static PickupWords of(BuildNotes.Note note) {
    return note.described()
        .map(PickupWords::of)
        .orElse(new PickupWords(Map.of()))
        .or(of(note.event()));
  }

  private static PickupWords of(BuildNoted note) {
    String henry =
        note.inductanceMicroHenries() == 0 ? "" : note.inductanceMicroHenries() * 1e-6 + " H";
    return new PickupWords(
        Map.of(
            Said.ALLOY, note.alloy(),
            Said.SHAPE, note.shape(),
            Said.SIZE, note.size(),
            Said.INDUCTANCE, henry));
  }

  private static PickupWords of(BuildDescribed event) {
    EnumMap<Said, String> said = new EnumMap<>(Said.class);
    said.put(Said.POLES, event.poles());
    said.put(Said.ARRANGED, event.arranged());
    said.put(Said.KEEPER, event.keeper());
    said.put(Said.POLES_UP, event.polesUp());
    said.put(Said.PITCH, event.pitch());
    said.put(Said.DISTANCE, event.distance());
    said.put(Said.SCALE, event.scale());
    said.put(Said.FROM_BRIDGE, event.fromBridge());
    said.put(Said.STRINGS, event.strings());
    said.put(Said.TURNS, event.turns());
    said.put(Said.WINDING, event.winding());
    said.put(Said.CORES, event.cores());
    said.put(Said.CORES_OF, event.coresOf());
    said.put(Said.COUNT, event.count());
    said.put(Said.RESISTANCE, event.resistance());
    said.put(Said.CAPACITANCE, event.capacitance());
    said.put(Said.LOAD, event.load());
    said.put(Said.STAND_OFF, event.standOff());
    return new PickupWords(said);
  }

  /** The same as an entry that describes what this note tells of. */
  public BuildDescribed describing(BuildNoted note) {
    return new BuildDescribed(
        note.name(),
        note.position(),
        typed(Said.POLES),
        typed(Said.ARRANGED),
        typed(Said.KEEPER),
        typed(Said.POLES_UP),
        typed(Said.PITCH),
        typed(Said.DISTANCE),
        typed(Said.SCALE),
        typed(Said.FROM_BRIDGE),
        typed(Said.STRINGS),
        typed(Said.TURNS),
        typed(Said.WINDING),
        typed(Said.CORES),
        typed(Said.CORES_OF),
        typed(Said.COUNT),
        typed(Said.RESISTANCE),
        typed(Said.CAPACITANCE),
        typed(Said.LOAD),
        typed(Said.STAND_OFF));
  }

  private String typed(Said field) {
    return said.getOrDefault(field, "");
  }
}
