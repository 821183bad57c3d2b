package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import lodestep.bench.MagnetAsked;
import lodestep.magnet.Alloy;
import lodestep.magnet.FaceModel;
import lodestep.quantity.Length;

/** What the commands on magnets say with {@code --json}: SI units, named by the field's end. */
final class JsonMagnet {

  private JsonMagnet() {}

  static ObjectNode ofKind(FaceModel kind, Length standOff) {
    ObjectNode node = Json.array().addObject();
    node.put("alloy", kind.alloy().name());
    node.put("shape", kind.shape().words());
    node.put("standOffMetres", standOff.metres());
    node.put("readBesideAxisMetres", kind.shape().readAside());
    node.put("fullChargeTesla", kind.chargedField(standOff).tesla());
    node.put("validity", MagnetCommands.RANGE);
    return node;
  }

  static ObjectNode ofCharging(FaceModel kind, Length standOff, List<MagnetAsked.Reach> reaches) {
    ObjectNode node = ofKind(kind, standOff);
    node.put("netSaturatingAmperesPerMetre", kind.alloy().saturatingField().amperesPerMetre());
    node.put("saturatingAmperesPerMetre", kind.saturating().amperesPerMetre());
    node.put("fullChargeOnAxisTesla", kind.chargedOnAxis(standOff).tesla());
    node.put("chargedHere", kind.alloy().family().isDialed());
    ArrayNode nests = node.putArray("nests");
    for (MagnetAsked.Reach reach : reaches) {
      ObjectNode each = nests.addObject();
      each.put("nest", reach.nest().name());
      each.put("source", reach.source());
      reach.most().ifPresent(most -> each.put("mostAmperesPerMetre", most.amperesPerMetre()));
      each.put("saturates", reach.saturates(kind));
      each.put("saturatesThroughout", reach.saturatesThroughout(kind));
    }
    return node;
  }

  static ObjectNode ofAlloy(Alloy alloy) {
    ObjectNode node = Json.array().addObject();
    node.put("name", alloy.name());
    node.put("family", alloy.family().words());
    node.put("form", alloy.form());
    ArrayNode figures = node.putArray("figures");
    alloy
        .figures()
        .forEach(
            (figure, known) -> {
              ObjectNode each = figures.addObject();
              each.put("figure", figure.words());
              each.put("heading", figure.heading());
              each.put("value", figure.written(known.value()));
              each.put("kind", known.source().kind().words());
              each.put("source", known.source().text());
            });
    return node;
  }
}
