package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Locale;
import lodestep.bench.Matching;

/** Which magnets go to which positions of sets, as the page gets it. Levels in tesla. Pure. */
final class MatchJson {

  private MatchJson() {}

  static ObjectNode of(Matching matching) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("complete", matching.complete());
    node.put("best", matching.best());
    ArrayNode sets = node.putArray("sets");
    for (Matching.SetFigures figures : matching.sets()) {
      ObjectNode set = sets.addObject();
      set.put("set", figures.set());
      set.put("positions", figures.positions());
      set.put("fitting", figures.fitting());
      set.put("spread", figures.spread());
      set.put("worst", figures.worst());
      figures.asked().ifPresent(part -> set.put("asked", part));
      figures
          .room()
          .ifPresent(room -> set.put("roomLeast", room.least()).put("roomMost", room.most()));
      ArrayNode places = set.putArray("places");
      matching.places().stream()
          .filter(place -> place.position().set().equals(figures.set()))
          .forEach(place -> place(places.addObject(), place));
    }
    return node;
  }

  private static void place(ObjectNode node, Matching.Place place) {
    node.put("position", place.position().name());
    node.put("targetTesla", place.position().level().target().tesla());
    place
        .magnet()
        .ifPresent(
            placed ->
                node.put("magnet", placed.magnet().magnet())
                    .put("name", placed.magnet().identity().name())
                    .put("tesla", ThingsJson.tesla(placed.magnet().fieldMicroTesla()))
                    .put("off", placed.deviation())
                    .put("unlike", placed.unlikeItsSet())
                    .put("todo", placed.remedy().name().toLowerCase(Locale.ROOT)));
  }
}
