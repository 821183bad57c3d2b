package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;

/** Plans as the page gets them, to be changed and begun. Pure. */
final class PlanJson {

  private PlanJson() {}

  static ArrayNode of(List<PlanForm> plans) {
    ArrayNode node = JsonNodeFactory.instance.arrayNode();
    for (PlanForm plan : plans) {
      ObjectNode each = node.addObject();
      each.put("name", plan.name());
      each.put("sample", plan.isSample());
      ArrayNode rows = each.putArray("rows");
      plan.rows().forEach(row -> row(rows.addObject(), row));
    }
    return node;
  }

  private static void row(ObjectNode node, PlanForm.Row row) {
    node.put("name", row.name());
    node.put("set", row.set());
    node.put("spread", row.spread());
    node.put("alloy", row.alloy());
    node.put("shape", row.shape());
    node.put("size", row.size());
    node.put("nest", row.nest());
    node.put("poleUp", row.poleUp());
    node.put("target", row.target());
    node.put("tolerance", row.tolerance());
    node.put("count", row.count());
    node.put("lot", row.lot());
  }
}
