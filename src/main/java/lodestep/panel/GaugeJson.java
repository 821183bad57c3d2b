package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import lodestep.bench.CheckWork;
import lodestep.bench.GuidedStudy;
import lodestep.bench.HandGauges;
import lodestep.bench.NestSeatings;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.StudyRecord;
import lodestep.measure.CrossedStudy.Scatter;
import lodestep.measure.EwmaChart;
import lodestep.measure.GaugeControl;
import lodestep.measure.HandGaugeRelation;
import lodestep.measure.IndividualsChart;
import lodestep.measure.PlacementStudy;
import lodestep.port.GaugeEvent.HandGaugeRelated;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.quantity.FluxDensity;

/**
 * What is on record of the gauge: checks with their chart, studies, hand gauges. SI units. Pure.
 */
final class GaugeJson {

  private GaugeJson() {}

  static ObjectNode of(GaugeShelf gauge, RigConfig rig) {
    GaugeRecord record = gauge.record();
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("calibration", gauge.calibration());
    gauge.handCautions().forEach(node.putArray("handCautions")::add);
    ArrayNode references = node.putArray("references");
    rig.gauge()
        .references()
        .forEach(reference -> reference(references.addObject(), reference, gauge, rig));
    ArrayNode studies = node.putArray("seatings");
    StudyRecord known = gauge.studies();
    for (NestConfig nest : rig.nests()) {
      known
          .placement(nest.name(), nest.standOff().microMetres())
          .ifPresent(study -> seating(studies.addObject(), study));
    }
    ArrayNode crossed = node.putArray("crossed");
    for (NestConfig nest : rig.nests()) {
      known
          .crossed(nest.name(), nest.standOff().microMetres())
          .ifPresent(study -> CrossedJson.of(crossed.addObject(), study));
    }
    known.open().ifPresent(study -> open(node.putObject("open"), study));
    ArrayNode relations = node.putArray("relations");
    record.relations().forEach(entry -> relation(relations.addObject(), entry));
    return node;
  }

  private static void reference(
      ObjectNode node, ReferenceConfig reference, GaugeShelf gauge, RigConfig rig) {
    GaugeRecord record = gauge.record();
    node.put("name", reference.name());
    node.put("nest", reference.nest());
    node.put("date", reference.date());
    node.put("tesla", reference.value().tesla());
    node.put("expandedTesla", reference.uncertainty().tesla());
    record
        .standing(reference.nest())
        .filter(judged -> judged.reference().equals(reference.name()))
        .ifPresent(
            judged -> {
              node.put("inControl", judged.inControl());
              node.put("why", judged.why());
            });
    GaugeControl control =
        CheckWork.control(
            reference,
            NestSeatings.of(gauge.studies()).in(rig.nest(reference.nest())),
            CheckWork.points(record, reference.name(), rig.nest(reference.nest())));
    readings(
        node.putArray("readings"),
        record.readingsOf(reference.name(), rig.nest(reference.nest())),
        control);
    control.chart().ifPresent(chart -> limits(node.putObject("chart"), chart));
  }

  private static void readings(
      ArrayNode all, List<GaugeRecord.Entry<ReferenceRead>> readings, GaugeControl control) {
    List<Double> points = control.points().stream().map(point -> point.value().tesla()).toList();
    Optional<List<Double>> means =
        control
            .chart()
            .map(chart -> new EwmaChart(chart.centre(), chart.sigma(), EwmaChart.WEIGHT))
            .map(chart -> chart.means(points));
    for (int at = 0; at < readings.size(); at++) {
      ObjectNode each = all.addObject();
      each.put("entry", readings.get(at).number());
      each.put("wallEpochMs", readings.get(at).wallEpochMs());
      each.put("stage", readings.get(at).event().stage());
      each.put("tesla", points.get(at));
      each.put("good", control.points().get(at).good());
      if (means.isPresent()) {
        each.put("weightedTesla", means.get().get(at));
      }
    }
  }

  private static void limits(ObjectNode node, IndividualsChart chart) {
    node.put("centreTesla", chart.centre());
    node.put("lowerTesla", chart.lower());
    node.put("upperTesla", chart.upper());
  }

  /** A study that was ended before its last reading. */
  private static void open(ObjectNode node, StudyRecord.Study study) {
    node.put("entry", study.number());
    node.put("nest", study.begun().nest());
    node.put("method", study.begun().method());
    node.put("readings", study.readings().size());
    node.put("asked", study.asked());
  }

  /** What one seating is worth in a nest, by the newest complete study. */
  private static void seating(ObjectNode node, StudyRecord.Study study) {
    PlacementStudy found = PlacementStudy.of(GuidedStudy.measured(study.readings()));
    node.put("entry", study.number());
    node.put("nest", study.begun().nest());
    node.put("readings", study.readings().size());
    node.put("fraction", found.seating().value());
    node.put("fractionAtMost", found.seatingAtMost());
    double half = FluxDensity.ofMicroTesla(study.begun().toleranceMicroTesla()).tesla();
    if (half > 0) {
      double level =
          found.magnets().stream().mapToDouble(one -> Math.abs(one.mean())).max().orElse(0);
      double taken = Scatter.ofTolerance(found.seating().value() * level, half);
      node.put("toleranceTesla", half);
      node.put("toleranceFraction", taken);
      node.put("verdict", Scatter.verdict(taken));
    }
  }

  private static void relation(ObjectNode node, GaugeRecord.Entry<HandGaugeRelated> entry) {
    HandGaugeRelation relation = HandGauges.relation(entry.event());
    node.put("entry", entry.number());
    node.put("gauge", entry.event().gauge());
    node.put("nest", entry.event().nest());
    node.put("shape", entry.event().shape());
    node.put("ratio", relation.ratio());
    node.put("ratioStandardUncertainty", relation.uncertainty().value());
    node.put("fromTesla", relation.from().tesla());
    node.put("toTesla", relation.to().tesla());
    node.put("magnets", entry.event().magnets());
  }
}
