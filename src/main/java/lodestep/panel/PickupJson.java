package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.Optional;
import lodestep.bench.PoleJob;
import lodestep.bench.PoleSeat;
import lodestep.ledger.Pickup;
import lodestep.measure.SettledReading;
import lodestep.paper.ReturnCase;
import lodestep.paper.ReturnCheck;
import lodestep.paper.ReturnReport;
import lodestep.paper.ReturnWork;
import lodestep.paper.Things;
import lodestep.port.StockEvent.PoleTopRead;

/** Pickups, the reading of their pole tops and their return checks. Levels in tesla. Pure. */
final class PickupJson {

  private PickupJson() {}

  static ObjectNode of(Things things, Pickup pickup) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    ThingsJson.named(node, pickup);
    node.put("winding", pickup.built().winding());
    node.put("said", pickup.built().said());
    ArrayNode magnets = node.putArray("magnets");
    for (long magnet : pickup.built().magnets()) {
      things.history(magnet).ifPresent(found -> ThingsJson.magnet(magnets.addObject(), found));
    }
    ArrayNode rounds = node.putArray("rounds");
    pickup.rounds().forEach(round -> round(rounds.addObject(), pickup, round));
    ArrayNode judged = node.putArray("judged");
    for (Pickup.Judged one : pickup.judged()) {
      judged
          .addObject()
          .put("entry", one.number())
          .put("wall", one.wall().toString())
          .put("verdict", one.event().verdict())
          .put("why", one.event().why());
    }
    ThingsJson.certificates(node.putArray("certificates"), things, pickup.built().name());
    ReturnWork work = ReturnWork.of(things, pickup);
    node.put("against", work.before().map(PickupJson::against).orElse("nothing"));
    node.put("toJudge", ReturnWork.toJudge(pickup).isPresent());
    PoleSeat seat =
        PoleSeat.like(
            work.round().or(() -> pickup.rounds().stream().reduce((older, newer) -> newer)));
    node.put("seat", seat.seat());
    node.put("spacer", seat.spacer().written());
    return node;
  }

  private static String against(ReturnCase.Before before) {
    return before instanceof ReturnCase.Before.Tops ? "tops" : "loose";
  }

  private static void round(ObjectNode node, Pickup pickup, Pickup.Round round) {
    node.put("round", round.round());
    node.put("stage", round.stage());
    node.put("wall", round.wall().toString());
    node.put("whole", round.poles().size() == pickup.built().poles());
    ArrayNode poles = node.putArray("poles");
    for (PoleTopRead top : round.poles()) {
      poles
          .addObject()
          .put("pole", top.pole())
          .put("tesla", ThingsJson.tesla(top.fieldMicroTesla()))
          .put("u", top.uncertaintyNanoTesla() * 1e-9);
    }
  }

  /** A reading under way. */
  static void reading(ObjectNode node, PoleJob job) {
    PoleJob.Poles poles = job.poles();
    node.put("pickup", poles.pickup());
    node.put("name", poles.work().built().name());
    node.put("stage", poles.work().stage());
    node.put("seat", poles.work().seat());
    node.put("spacer", poles.work().spacer().written());
    node.put("of", poles.work().built().poles());
    node.put("over", job.over());
    node.put("whole", poles.whole());
    ArrayNode read = node.putArray("read");
    for (SettledReading reading : poles.read()) {
      read.addObject()
          .put("tesla", reading.value().tesla())
          .put("u", reading.standardUncertainty().tesla());
    }
  }

  /** A return check on record. */
  static ObjectNode of(long entry, Instant wall, ReturnReport report) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    ThingsJson.named(node, report.of().pickup());
    node.put("entry", entry);
    node.put("judged", wall.toString());
    node.put("then", report.of().beforeWall().toString());
    node.put("now", report.of().now().wall().toString());
    node.put("verdict", report.result().verdict().word());
    node.put("probability", report.result().probability());
    node.put("why", report.verdict());
    node.put("taken", report.taken().orElse(""));
    node.put("customer", report.forCustomer());
    node.put("how", report.how());
    node.put("against", against(report.of().before()));
    change(node.putObject("mean"), report.result().mean(), Optional.empty());
    ArrayNode poles = node.putArray("poles");
    for (int at = 0; at < report.result().poles().size(); at++) {
      change(
          poles.addObject(),
          report.result().poles().get(at),
          Optional.of(report.check().poles().get(at)));
    }
    return node;
  }

  private static void change(
      ObjectNode node, ReturnCheck.Change change, Optional<ReturnCheck.Pole> pole) {
    pole.ifPresent(
        read ->
            node.put("pole", read.pole())
                .put("thenTesla", read.then().tesla())
                .put("nowTesla", read.now().tesla()));
    node.put("change", change.change());
    node.put("u", change.u());
    node.put("unchanged", change.odds().unchanged());
    node.put("lost", change.odds().lost());
    node.put("gained", change.odds().gained());
  }
}
