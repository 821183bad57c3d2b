package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import lodestep.paper.BuildNotes;
import lodestep.port.Plot;
import lodestep.voice.LevelPlan;
import lodestep.voice.PickupWords;
import lodestep.voice.Said;
import lodestep.voice.Told;
import lodestep.voice.Told.Passage;

/** Answers on voice as the page gets them: the sentences of the commands. Pure. */
final class VoiceJson {

  /** As many notes as a person looks through; the file has all. */
  static final int NOTES_MAX = 40;

  private VoiceJson() {}

  /** A field's name in a request. */
  static String name(Said field) {
    StringBuilder name = new StringBuilder();
    for (String part : field.word().split("-", -1)) {
      name.append(
          name.isEmpty() ? part : Character.toUpperCase(part.charAt(0)) + part.substring(1));
    }
    return name.toString();
  }

  static ObjectNode of(Told told) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    ArrayNode passages = node.putArray("passages");
    told.passages().forEach(passage -> passage(passages.addObject(), passage));
    ArrayNode plots = node.putArray("plots");
    told.plots().forEach(plot -> plot(plots.addObject(), plot));
    return node;
  }

  private static void passage(ObjectNode node, Passage passage) {
    if (passage instanceof Passage.Rows rows) {
      node.put("kind", "rows");
      node.put("name", rows.name());
      node.put("shown", rows.shown());
      node.put("words", rows.words());
      rows.columns().forEach(node.putArray("columns")::add);
      ArrayNode all = node.putArray("rows");
      rows.rows().forEach(row -> row.forEach(all.addArray()::add));
    } else if (passage instanceof Passage.Heading heading) {
      node.put("kind", "heading").put("text", heading.text());
    } else if (passage instanceof Passage.Sentence sentence) {
      node.put("kind", "sentence").put("text", sentence.text());
    } else {
      node.put("kind", "custom").put("text", ((Passage.Custom) passage).text());
    }
  }

  private static void plot(ObjectNode node, Plot plot) {
    node.put("title", plot.title());
    node.put("across", plot.across());
    node.put("up", plot.up());
    ArrayNode curves = node.putArray("curves");
    for (Plot.Curve curve : plot.curves()) {
      ObjectNode each = curves.addObject();
      each.put("name", curve.name());
      curve.x().forEach(each.putArray("x")::add);
      curve.y().forEach(each.putArray("y")::add);
    }
  }

  /** In this order, with what each says of its pickup. */
  static void notes(ArrayNode node, List<BuildNotes.Note> notes) {
    for (BuildNotes.Note note : notes) {
      ObjectNode each = node.addObject();
      each.put("entry", note.number());
      each.put("day", note.event().day());
      each.put("name", note.event().name());
      each.put("words", note.words());
      ObjectNode said = each.putObject("said");
      PickupWords.of(note).said().forEach((field, words) -> said.put(name(field), words));
    }
  }

  /** A plan as the page's own planner has it. */
  static ObjectNode of(LevelPlan plan) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("name", plan.set());
    ArrayNode rows = node.putArray("rows");
    for (LevelPlan.Row row : plan.rows()) {
      rows.addObject()
          .put("name", row.name())
          .put("set", row.set())
          .put("spread", row.spread())
          .put("alloy", row.alloy())
          .put("shape", row.shape())
          .put("size", row.size())
          .put("nest", "")
          .put("poleUp", row.poleUp())
          .put("target", row.target())
          .put("tolerance", row.tolerance())
          .put("count", "1")
          .put("lot", "");
    }
    return node;
  }
}
