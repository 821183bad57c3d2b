package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import lodestep.bench.GuidedStudy;
import lodestep.ledger.StudyRecord;
import lodestep.measure.CrossedStudy;
import lodestep.measure.CrossedStudy.Analysis;
import lodestep.measure.CrossedStudy.Scatter;
import lodestep.measure.CrossedStudy.Source;
import lodestep.quantity.FluxDensity;

/**
 * What a crossed study comes to: by analysis of variance and by averages and ranges. SI units, mean
 * squares in T². Pure.
 */
final class CrossedJson {

  private CrossedJson() {}

  /** A complete study. */
  static void of(ObjectNode node, StudyRecord.Study study) {
    CrossedStudy crossed = CrossedStudy.of(GuidedStudy.measured(study.readings()));
    Analysis analysis = crossed.analysis();
    Scatter variance = analysis.scatter();
    double half = FluxDensity.ofMicroTesla(study.begun().toleranceMicroTesla()).tesla();
    node.put("entry", study.number());
    node.put("nest", study.begun().nest());
    crossed.parts().forEach(node.putArray("magnets")::add);
    crossed.appraisers().forEach(node.putArray("persons")::add);
    node.put("times", crossed.trials());
    ArrayNode sources = node.putArray("sources");
    source(sources.addObject(), "persons", analysis.people(), analysis.yardstick());
    source(sources.addObject(), "magnets", analysis.parts(), analysis.yardstick());
    source(sources.addObject(), "both", analysis.interaction(), analysis.error());
    source(sources.addObject(), "gauge", analysis.error());
    source(sources.addObject(), "all", analysis.total());
    node.put("pooled", analysis.pooled());
    scatter(node.putObject("variance"), variance, half);
    scatter(node.putObject("ranges"), crossed.averageAndRange(), half);
    double fraction =
        half > 0 ? Scatter.ofTolerance(variance.gauge(), half) : variance.ofTotal(variance.gauge());
    node.put("toleranceTesla", half);
    node.put("fraction", fraction);
    node.put("verdict", Scatter.verdict(fraction));
    if (variance.gauge() > 0) {
      node.put("categories", variance.categories());
    }
  }

  private static void source(ObjectNode node, String name, Source source) {
    node.put("source", name);
    node.put("squares", source.squares());
    node.put("freedom", source.freedom());
    node.put("mean", source.mean());
  }

  private static void source(ObjectNode node, String name, Source source, Source against) {
    source(node, name, source);
    if (source.freedom() > 0 && against.squares() > 0) {
      node.put("ratio", source.over(against));
      node.put("chance", source.probability(against));
    }
  }

  private static void scatter(ObjectNode node, Scatter scatter, double half) {
    node.put("gauge", scatter.repeatability());
    node.put("persons", scatter.reproducibility());
    node.put("both", scatter.gauge());
    node.put("magnets", scatter.parts());
    node.put("all", scatter.total());
    if (half > 0) {
      node.put("ofTolerance", Scatter.ofTolerance(scatter.gauge(), half));
    }
  }
}
