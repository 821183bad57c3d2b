package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.Pickup;
import lodestep.magnet.AlloyBook;
import lodestep.paper.LotReport;
import lodestep.paper.Ordered;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.paper.Things.Thing;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent.CertificateIssued;
import lodestep.port.StockEvent.LotReceived;
import lodestep.quantity.FluxDensity;

/** Sets, orders, lots, and what a search finds, as the page gets them. Levels in tesla. Pure. */
final class ThingsJson {

  /** As many of a kind as a person looks through. */
  private static final int FOUND_MAX = 20;

  private ThingsJson() {}

  static ObjectNode found(Things things, List<Bench.Found> magnets, String words) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.set("magnets", MagnetJson.of(magnets));
    String wanted = words.strip().toLowerCase(Locale.ROOT);
    newest(node.putArray("sets"), things.sets(), wanted);
    ArrayNode pickups = node.putArray("pickups");
    newest(things.pickups()).stream()
        .filter(pickup -> has(pickup.built().name(), wanted) || is(pickup.number(), wanted))
        .limit(FOUND_MAX)
        .forEach(pickup -> named(pickups.addObject(), pickup));
    ArrayNode orders = node.putArray("orders");
    newest(things.orders()).stream()
        .filter(
            order ->
                has(order.name(), wanted)
                    || order
                        .taken()
                        .filter(taken -> has(taken.event().customer(), wanted))
                        .isPresent())
        .limit(FOUND_MAX)
        .forEach(order -> orders.addObject().put("name", order.name()).put("state", order.state()));
    newest(node.putArray("lots"), things.lots(), wanted);
    return node;
  }

  private static <T> List<T> newest(List<T> all) {
    List<T> turned = new ArrayList<>(all);
    Collections.reverse(turned);
    return turned;
  }

  private static void newest(ArrayNode node, List<String> names, String wanted) {
    newest(names).stream().filter(name -> has(name, wanted)).limit(FOUND_MAX).forEach(node::add);
  }

  private static boolean has(String name, String wanted) {
    return name.toLowerCase(Locale.ROOT).contains(wanted);
  }

  private static boolean is(long number, String wanted) {
    return wanted.replace("#", "").equals(Long.toString(number));
  }

  static ObjectNode named(ObjectNode node, Pickup pickup) {
    return node.put("pickup", pickup.number())
        .put("name", pickup.built().name())
        .put("order", pickup.built().order())
        .put("wall", pickup.wall().toString())
        .put("poles", pickup.built().poles());
  }

  /** A set's magnets in the order of its positions, and its certificates. */
  static ObjectNode set(Things things, Thing thing) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("name", thing.name());
    node.put("kind", thing.kind());
    ArrayNode magnets = node.putArray("magnets");
    for (long magnet : Papers.magnets(thing)) {
      things.history(magnet).ifPresent(history -> magnet(magnets.addObject(), history));
    }
    certificates(node.putArray("certificates"), things, thing.name());
    ArrayNode pickups = node.putArray("pickups");
    things.pickups().stream()
        .filter(pickup -> !Collections.disjoint(pickup.built().magnets(), Papers.magnets(thing)))
        .forEach(pickup -> named(pickups.addObject(), pickup));
    return node;
  }

  static void magnet(ObjectNode node, MagnetHistory history) {
    LedgerEvent.MagnetNamed identity = history.identity();
    node.put("magnet", history.magnet());
    node.put("name", identity.name());
    node.put("kind", identity.alloy() + ", " + identity.shape());
    node.put("pole", identity.poleUp());
    node.put("targetTesla", tesla(identity.targetMicroTesla()));
    node.put("toleranceTesla", tesla(identity.toleranceMicroTesla()));
    history
        .standingVerdict()
        .ifPresent(
            verdict ->
                node.put("verdict", verdict.verdict())
                    .put("tesla", tesla(verdict.fieldMicroTesla())));
  }

  static double tesla(long microTesla) {
    return FluxDensity.ofMicroTesla(microTesla).tesla();
  }

  /** The numbers of all that were made out of it, the newest first. */
  static void certificates(ArrayNode node, Things things, String name) {
    newest(things.entries(Set.of(EventCodec.kind(CertificateIssued.class)))).stream()
        .filter(entry -> ((CertificateIssued) entry.event()).of().equalsIgnoreCase(name))
        .limit(FOUND_MAX)
        .forEach(
            entry ->
                node.addObject().put("entry", entry.number()).put("wall", entry.wall().toString()));
  }

  static ObjectNode order(Ordered order) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("name", order.name());
    node.put("state", order.state());
    order
        .taken()
        .ifPresent(
            taken ->
                node.put("wall", taken.wall().toString())
                    .put("customer", taken.event().customer())
                    .put("wanted", taken.event().wanted())
                    .put("due", taken.event().due()));
    ArrayNode pickups = node.putArray("pickups");
    order.pickups().forEach(pickup -> named(pickups.addObject(), pickup));
    ArrayNode certificates = node.putArray("certificates");
    order.certificates().forEach(number -> certificates.addObject().put("entry", number));
    order
        .handedOver()
        .ifPresent(
            out -> node.put("outWall", out.wall().toString()).put("outSaid", out.event().said()));
    return node;
  }

  static ObjectNode lot(LotReport report, AlloyBook book) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("lot", report.lot());
    ArrayNode received = node.putArray("received");
    for (LotReceived in : report.received()) {
      received
          .addObject()
          .put("quantity", in.quantity())
          .put("alloy", in.alloy())
          .put("supplier", in.supplier())
          .put("said", in.said());
    }
    node.putObject("counts")
        .put("untouched", report.counts().untouched())
        .put("uncharged", report.counts().uncharged())
        .put("charged", report.counts().charged())
        .put("dialed", report.counts().dialed())
        .put("refused", report.counts().refused())
        .put("assembled", report.counts().assembled())
        .put("scrapped", report.counts().scrapped());
    ArrayNode groups = node.putArray("charged");
    report.charged().forEach(charged -> charged(groups.addObject(), charged, report, book));
    return node;
  }

  private static void charged(
      ObjectNode node, LotReport.Charged charged, LotReport report, AlloyBook book) {
    node.put("shape", charged.like().shape());
    node.put("nest", charged.nest());
    node.put("magnets", charged.readings().size());
    node.put("meanTesla", charged.mean());
    node.put("deviationTesla", charged.deviation());
    report.received().stream()
        .map(LotReceived::alloy)
        .reduce((earlier, later) -> later)
        .flatMap(claim -> charged.claimed(book, claim))
        .ifPresent(alike -> alike(node.putObject("claimed"), alike));
    ArrayNode alike = node.putArray("alike");
    charged.alike(book).forEach(one -> alike(alike.addObject(), one));
  }

  private static void alike(ObjectNode node, LotReport.Alike alike) {
    node.put("alloy", alike.alloy());
    node.put("tesla", alike.reads());
    node.put("off", alike.off());
    node.put("spreads", alike.spreads());
  }
}
