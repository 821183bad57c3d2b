package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.device.BankLeft;

/** The rig as it was understood, and what can be chosen on it. Pure but for what is on record. */
final class RigJson {

  private RigJson() {}

  static ObjectNode of(Bench bench) {
    RigConfig rig = bench.rig();
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("name", rig.name());
    node.put("virtual", rig.kind() == RigKind.VIRTUAL);
    node.put("drives", !rig.headAlone());
    node.put("words", bench.rigWords());
    ArrayNode nests = node.putArray("nests");
    for (NestConfig nest : rig.nests()) {
      ObjectNode each = nests.addObject();
      each.put("name", nest.name());
      each.put("shape", nest.shape());
      each.put("standOffMetres", nest.standOff().metres());
      each.put("coil", nest.coil());
    }
    bench.alloys().forEach(node.putArray("alloys")::add);
    ArrayNode facts = node.putArray("facts");
    bench
        .facts()
        .forEach(fact -> facts.addObject().put("what", fact.what()).put("how", fact.how()));
    wear(bench, node);
    bench.cautions().forEach(node.putArray("cautions")::add);
    return node;
  }

  /** What is used up, where the rig has it. */
  private static void wear(Bench bench, ObjectNode node) {
    bench
        .contacts()
        .ifPresent(
            life -> {
              ObjectNode contacts = node.putObject("contacts");
              contacts.put("worked", life.worked());
              contacts.put("expected", life.relays().operations());
              contacts.put("newSince", life.relays().newSince());
              contacts.put("nearlyOver", life.nearlyOver());
            });
    bench
        .bankLeft()
        .ifPresent(
            left -> {
              ObjectNode bank = node.putObject("bank");
              bank.put("proofs", left.proofs());
              bank.put("from", BankLeft.FIRST + BankLeft.NEWEST);
              left.part().ifPresent(part -> bank.put("left", part));
              bank.put("lostAt", BankLeft.LOST_BY);
              bank.put("newSince", bench.rig().bank().newSince());
              bank.put("minds", left.minds());
              bank.put("says", left.sentence());
            });
  }
}
