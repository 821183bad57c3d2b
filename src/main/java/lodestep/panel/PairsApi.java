package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Optional;
import lodestep.bench.HandGauges;
import lodestep.bench.TypedPairs;
import lodestep.bench.TypedReading;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.RecordedShape;
import lodestep.measure.HandGaugeRelation;
import lodestep.measure.PairedReadings;
import lodestep.panel.Bench.Answer;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.port.GaugeEvent.HandGaugeRelated;
import lodestep.port.LedgerArchive;
import lodestep.quantity.FluxDensity;

/**
 * Readings of hand gauges beside the rig's own, and the relation that is found of them. SI units.
 * Any thread.
 */
final class PairsApi {

  private static final FluxDensity STEP_USUAL = FluxDensity.ofGauss(1);

  private final GaugeShelf gauge;
  private final Shelf shelf;
  private final RigConfig rig;

  PairsApi(GaugeShelf gauge, Shelf shelf, RigConfig rig) {
    this.gauge = gauge;
    this.shelf = shelf;
    this.rig = rig;
  }

  /** All pairs on record, gauge by gauge, kind by kind. */
  void pairs(ArrayNode all) {
    gauge.ofRecord(
        archive -> {
          for (String name : TypedPairs.gauges(archive)) {
            TypedPairs.of(archive, name).kinds().forEach(kind -> kind(all.addObject(), name, kind));
          }
          return all;
        });
  }

  private void kind(ObjectNode node, String name, TypedPairs.Kind kind) {
    node.put("gauge", name);
    node.put("nest", kind.of().nest());
    node.put("shape", RecordedShape.of(kind.named()).words());
    ArrayNode magnets = node.putArray("magnets");
    for (PairedReadings.Magnet magnet : kind.pairs().magnets()) {
      ObjectNode each = magnets.addObject();
      each.put("name", magnet.name());
      each.put("nestTesla", magnet.nestTesla());
      each.put("handTesla", magnet.handTesla());
      each.put("ratio", magnet.ratio());
    }
    kind.leftOut().forEach(node.putArray("leftOut")::add);
    kind.pairs()
        .relation(STEP_USUAL)
        .match(
            found -> {
              HandGaugeRelation relation = found.relation();
              node.put("ratio", relation.ratio());
              node.put("ratioStandardUncertainty", relation.uncertainty().value());
              node.put("scatter", relation.scatter());
              return node.put("untested", found.untested());
            },
            none -> node.put("why", none.why()));
  }

  /** Another gauge's reading of a magnet that the rig has read, as a person types it. */
  Answer typed(Order order) {
    TypedReading typed = TypedReading.read(order.text("reading"), order.text("gauge"));
    String name = order.text("magnet");
    long magnet = shelf.read(things -> magnet(things, name));
    long entry = shelf.keep(typed.entry(magnet));
    return Answer.kept(
        typed.gauge() + " reads " + typed.typed() + " on " + name + ": on record as typed", entry);
  }

  private static long magnet(Things things, String name) {
    return things
        .magnet(name)
        .filter(Things.Thing.OfMagnet.class::isInstance)
        .map(Things.Thing.OfMagnet.class::cast)
        .orElseThrow(() -> Papers.unknown(things, name))
        .magnet();
  }

  /** Puts the relation on record that these pairs tell. */
  Answer relate(Order order) {
    HandGaugeRelated entry = gauge.ofRecord(archive -> entry(archive, order));
    return Answer.kept(
        entry.gauge() + " " + HandGauges.relation(entry).written(), shelf.keep(entry));
  }

  private HandGaugeRelated entry(LedgerArchive archive, Order order) {
    String name = order.text("gauge");
    TypedPairs.Kind kind =
        TypedPairs.of(archive, name).kinds().stream()
            .filter(one -> one.of().nest().equals(order.text("nest")))
            .filter(one -> RecordedShape.of(one.named()).words().equals(order.text("shape")))
            .findFirst()
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "no reading of '" + name + "' was typed of such a magnet"));
    NestConfig nest = nest(kind.of());
    String wanted = order.text("step");
    FluxDensity step = wanted.isEmpty() ? STEP_USUAL : FluxDensity.parse(wanted);
    return kind.pairs()
        .relation(step)
        .match(
            found ->
                HandGauges.entry(
                    name,
                    nest,
                    RecordedShape.of(kind.named()),
                    new HandGauges.Found(
                        found.relation(),
                        kind.pairs().magnets().size(),
                        "readings typed into the ledger")),
            none -> {
              throw new IllegalArgumentException("no relation: " + none.why());
            });
  }

  private NestConfig nest(TypedPairs.Of of) {
    Optional<NestConfig> nest =
        rig.nests().stream()
            .filter(one -> one.name().equals(of.nest()))
            .filter(one -> one.standOff().microMetres() == of.standOffMicroMetres())
            .findFirst();
    return nest.orElseThrow(
        () ->
            new IllegalArgumentException(
                "the "
                    + of.nest()
                    + " has another stand-off now than when these were read; pair magnets anew"));
  }
}
