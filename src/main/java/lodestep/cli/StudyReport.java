package lodestep.cli;

import static lodestep.cli.GaugeCommands.gauss;
import static lodestep.cli.GaugeCommands.understood;
import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import lodestep.measure.CrossedStudy;
import lodestep.measure.CrossedStudy.Analysis;
import lodestep.measure.CrossedStudy.Measured;
import lodestep.measure.CrossedStudy.Scatter;
import lodestep.measure.PlacementStudy;

/**
 * What a study of the gauge comes to, in words and as JSON. Any thread, immutable.
 *
 * @param fraction of the tolerance, or without one of all scatter, that the gauge takes up
 */
record StudyReport(List<String> words, ObjectNode json, double fraction) {

  /**
   * The analysis of these readings.
   *
   * @param crossed whether several persons took them
   * @param half half width of the band the gauge is to tell, in tesla; 0 if none was named
   * @throws Refusal if they make no study
   */
  static StudyReport of(boolean crossed, List<Measured> readings, double half) {
    return crossed
        ? crossed(understood(() -> CrossedStudy.of(readings)), half)
        : placed(understood(() -> PlacementStudy.of(readings)), half);
  }

  /** Whether the gauge is fit. */
  boolean fit() {
    return fraction <= Scatter.FIT_FRACTION;
  }

  private static StudyReport crossed(CrossedStudy study, double half) {
    Analysis analysis = study.analysis();
    Scatter scatter = analysis.scatter();
    double fraction =
        half > 0 ? Scatter.ofTolerance(scatter.gauge(), half) : scatter.ofTotal(scatter.gauge());
    ObjectNode node = Json.object();
    node.put("study", "crossed");
    node.put("magnets", study.parts().size());
    node.put("persons", study.appraisers().size());
    node.put("trials", study.trials());
    node.set("analysisOfVariance", Json.ofRecord(analysis));
    node.set("averageAndRange", Json.ofRecord(study.averageAndRange()));
    node.put("interactionPooled", analysis.pooled());
    if (scatter.gauge() > 0) {
      node.put("categories", scatter.categories());
    } else {
      node.putNull("categories");
      node.put("categoriesWhy", NO_SCATTER);
    }
    node.put("gaugeFraction", fraction);
    node.put("of", half > 0 ? "tolerance" : "all scatter");
    node.put("verdict", Scatter.verdict(fraction));
    return new StudyReport(crossedWords(study, analysis, half, fraction), node, fraction);
  }

  private static final String NO_SCATTER =
      "the gauge shows no scatter at all; are its readings rounded too coarsely?";

  private static List<String> crossedWords(
      CrossedStudy study, Analysis analysis, double half, double fraction) {
    Scatter scatter = analysis.scatter();
    List<String> lines = new ArrayList<>();
    lines.add(
        said(
            "Crossed study: %d magnets, %d persons, %d readings of each by each",
            study.parts().size(), study.appraisers().size(), study.trials()));
    lines.add("");
    lines.addAll(StudyTables.variance(analysis).lines());
    lines.add(
        analysis.pooled()
            ? "Interaction does not show and is counted to the gauge."
            : "Some persons read some magnets differently; that is counted to the persons.");
    lines.add("");
    lines.add("Standard deviations s, by the analysis of variance and by the ranges:");
    lines.addAll(StudyTables.scatter(scatter, study.averageAndRange(), half).lines());
    lines.add(
        scatter.gauge() > 0
            ? said("The gauge tells %d kinds of magnets apart.", scatter.categories())
            : "How many kinds it tells apart cannot be said: " + NO_SCATTER);
    lines.add("");
    lines.add(verdict("gauge and persons", fraction, half));
    return lines;
  }

  private static StudyReport placed(PlacementStudy study, double half) {
    double sigma = study.seating().value();
    double level =
        study.magnets().stream().mapToDouble(magnet -> Math.abs(magnet.mean())).max().orElse(0);
    double fraction = half > 0 ? Scatter.ofTolerance(sigma * level, half) : 0;
    ObjectNode node = Json.object();
    node.put("study", "placement");
    node.set("seating", Json.ofRecord(study.seating()));
    node.put("seatingAtMost", study.seatingAtMost());
    if (half > 0) {
      node.put("seatingFraction", fraction);
      node.put("verdict", Scatter.verdict(fraction));
    }
    List<String> lines = new ArrayList<>(StudyTables.placement(study).lines());
    lines.add("");
    lines.add(
        said(
            "One seating moves the reading by %.3f %% (standard uncertainty, %.0f degrees of"
                + " freedom), by less than",
            100 * sigma, study.seating().degreesOfFreedom()));
    lines.add(said("%.3f %% with a confidence of 95 %%.", 100 * study.seatingAtMost()));
    addPatterns(study, lines);
    if (half > 0) {
      lines.add(verdict("seating at " + gauss(level, 0) + " G", fraction, half));
    }
    return new StudyReport(lines, node, fraction);
  }

  private static void addPatterns(PlacementStudy study, List<String> lines) {
    study
        .magnets()
        .forEach(
            magnet ->
                magnet.patterns().stream()
                    .limit(1)
                    .forEach(
                        signal ->
                            lines.add(
                                magnet.magnet()
                                    + " does not scatter by chance: "
                                    + signal.words()
                                    + "; was it warming, or working loose?")));
  }

  private static String verdict(String what, double fraction, double half) {
    return said(
        "Verdict: %s. Six standard deviations of %s take up %.1f %% of %s.",
        Scatter.verdict(fraction),
        what,
        100 * fraction,
        half > 0 ? "the tolerance of ± " + gauss(half, 1) + " G" : "all scatter");
  }
}
