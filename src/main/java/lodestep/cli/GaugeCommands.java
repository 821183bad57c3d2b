package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import lodestep.bench.ReadingSheet;
import lodestep.measure.CrossedStudy;
import lodestep.measure.CrossedStudy.Analysis;
import lodestep.measure.CrossedStudy.Scatter;
import lodestep.measure.CrossedStudy.Source;
import lodestep.measure.PlacementStudy;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** What the gauge is worth: studies from readings that were written down. */
final class GaugeCommands {

  private GaugeCommands() {}

  /** What a person wrote, or a refusal with its sentence. */
  static <T> T understood(Supplier<T> reading) {
    try {
      return reading.get();
    } catch (IllegalArgumentException wrong) {
      throw new Refusal(String.valueOf(wrong.getMessage()));
    }
  }

  /** A level or a width that was given as an option. */
  static FluxDensity flux(String option, String text) {
    try {
      return FluxDensity.parse(text);
    } catch (IllegalArgumentException wrong) {
      throw new Refusal(option + ": " + wrong.getMessage());
    }
  }

  /** In gauss, for tables whose heading says the unit. */
  static String gauss(double tesla, int decimals) {
    return said("%." + decimals + "f", tesla * 1e4);
  }

  /** The group itself, which only says what there is. */
  @Command(
      name = "gauge",
      description = "Says what the gauge is worth: checks, charts, studies, budget, hand gauge.",
      subcommands = HelpCommand.class)
  static final class OfGauge extends Group {
    OfGauge(Desk desk) {
      super(desk);
    }
  }

  @Command(
      name = "study",
      description = "Tells from a file of readings what scatter is the gauge's own.",
      footer = {
        "",
        "Crossed: every person reads every magnet equally often, twice or more; the",
        "heading is magnet,person,reading. Placement: each magnet is taken out and put",
        "back, five times or more, in the order of the rows; the heading is",
        "magnet,reading. A reading has its unit with it (431.2 G), or the heading has it",
        "(reading G). Six standard deviations are held against the whole tolerance:",
        "below 10 % is good, up to 30 % of limited use, above that not fit.",
        "",
        "Example: lodestep gauge study readings.csv --tolerance \"12 G\""
      })
  static final class Study extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "FILE", description = "a CSV file, a row a reading")
    private Path file = Path.of("");

    @Option(
        names = "--tolerance",
        paramLabel = "TOLERANCE",
        description = "half width of the band the gauge is to tell, \"12 G\"")
    private @Nullable String tolerance;

    @Option(names = "--json", description = "as JSON, in tesla")
    private boolean json;

    Study(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      double half = tolerance == null ? 0 : flux("--tolerance", tolerance).tesla();
      if (tolerance != null && !(half > 0)) {
        throw new Refusal("--tolerance: a tolerance must be above zero");
      }
      ReadingSheet.Study study =
          understood(() -> ReadingSheet.study(desk.program().gauge().textOf(file)));
      if (study.crossed()) {
        CrossedStudy crossed = understood(() -> CrossedStudy.of(study.readings()));
        return crossed(crossed, half);
      }
      return placed(understood(() -> PlacementStudy.of(study.readings())), half);
    }

    private int crossed(CrossedStudy study, double half) {
      Analysis analysis = study.analysis();
      Scatter scatter = analysis.scatter();
      double fraction =
          half > 0 ? Scatter.ofTolerance(scatter.gauge(), half) : scatter.ofTotal(scatter.gauge());
      if (json) {
        ObjectNode node = Json.object();
        node.put("study", "crossed");
        node.put("magnets", study.parts().size());
        node.put("persons", study.appraisers().size());
        node.put("trials", study.trials());
        node.set("analysisOfVariance", Json.ofRecord(analysis));
        node.set("averageAndRange", Json.ofRecord(study.averageAndRange()));
        node.put("interactionPooled", analysis.pooled());
        node.put("categories", scatter.categories());
        node.put("gaugeFraction", fraction);
        node.put("of", half > 0 ? "tolerance" : "all scatter");
        node.put("verdict", Scatter.verdict(fraction));
        desk.print(node);
        return code(fraction);
      }
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
      lines.addAll(StudyTables.scatter(scatter, study.averageAndRange(), half).lines());
      lines.add(said("The gauge tells %d kinds of magnets apart.", scatter.categories()));
      lines.add("");
      lines.add(verdict("gauge and persons", fraction, half));
      desk.print(lines);
      return code(fraction);
    }

    private int placed(PlacementStudy study, double half) {
      double sigma = study.seating().value();
      double level =
          study.magnets().stream().mapToDouble(magnet -> Math.abs(magnet.mean())).max().orElse(0);
      double fraction = half > 0 ? Scatter.ofTolerance(sigma * level, half) : 0;
      if (json) {
        ObjectNode node = Json.object();
        node.put("study", "placement");
        node.set("seating", Json.ofRecord(study.seating()));
        node.put("seatingAtMost", study.seatingAtMost());
        if (half > 0) {
          node.put("seatingFraction", fraction);
          node.put("verdict", Scatter.verdict(fraction));
        }
        desk.print(node);
        return code(fraction);
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
      desk.print(lines);
      return code(fraction);
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

    private static int code(double fraction) {
      return fraction > Scatter.FIT_FRACTION ? Desk.NOT_ACCEPTED : Desk.DONE;
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

  /** Tables of studies. */
  static final class StudyTables {

    private StudyTables() {}

    static Table variance(Analysis analysis) {
      List<List<String>> rows = new ArrayList<>();
      Source yardstick = analysis.yardstick();
      rows.add(row("persons", analysis.people(), yardstick));
      rows.add(row("magnets", analysis.parts(), yardstick));
      rows.add(row("persons by magnets", analysis.interaction(), analysis.error()));
      rows.add(row("gauge", analysis.error(), null));
      rows.add(row("all", analysis.total(), null));
      return new Table(
          List.of(
              Table.Column.ofWords("source"),
              Table.Column.ofNumbers("squares/G\u00b2"),
              Table.Column.ofNumbers("freedom"),
              Table.Column.ofNumbers("mean/G\u00b2"),
              Table.Column.ofNumbers("F"),
              Table.Column.ofNumbers("by chance")),
          rows);
    }

    private static List<String> row(String name, Source source, @Nullable Source against) {
      String ratio = "";
      String chance = "";
      if (against != null && source.freedom() > 0 && against.squares() > 0) {
        ratio = said("%.3f", source.over(against));
        chance = said("%.3f", source.probability(against));
      }
      return List.of(
          name,
          said("%.4f", source.squares() * 1e8),
          String.valueOf(source.freedom()),
          said("%.4f", source.mean() * 1e8),
          ratio,
          chance);
    }

    static Table scatter(Scatter variance, Scatter ranges, double half) {
      List<Table.Column> columns =
          new ArrayList<>(
              List.of(
                  Table.Column.ofWords("standard deviation"),
                  Table.Column.ofNumbers("variance/G"),
                  Table.Column.ofNumbers("of all/%"),
                  Table.Column.ofNumbers("ranges/G"),
                  Table.Column.ofNumbers("of all/%")));
      if (half > 0) {
        columns.add(Table.Column.ofNumbers("of tolerance/%"));
      }
      List<List<String>> rows = new ArrayList<>();
      rows.add(
          row("gauge alone", variance.repeatability(), variance, ranges.repeatability(), ranges));
      rows.add(
          row("persons", variance.reproducibility(), variance, ranges.reproducibility(), ranges));
      rows.add(row("gauge and persons", variance.gauge(), variance, ranges.gauge(), ranges));
      rows.add(row("magnets", variance.parts(), variance, ranges.parts(), ranges));
      rows.add(row("all", variance.total(), variance, ranges.total(), ranges));
      double[] deviations = {
        variance.repeatability(),
        variance.reproducibility(),
        variance.gauge(),
        variance.parts(),
        variance.total()
      };
      for (int at = 0; at < rows.size() && half > 0; at++) {
        rows.get(at).add(said("%.1f", 100 * Scatter.ofTolerance(deviations[at], half)));
      }
      return new Table(columns, rows);
    }

    private static List<String> row(
        String name, double variance, Scatter ofVariance, double ranges, Scatter ofRanges) {
      return new ArrayList<>(
          List.of(
              name,
              gauss(variance, 4),
              said("%.1f", 100 * ofVariance.ofTotal(variance)),
              gauss(ranges, 4),
              said("%.1f", 100 * ofRanges.ofTotal(ranges))));
    }

    static Table placement(PlacementStudy study) {
      return new Table(
          List.of(
              Table.Column.ofWords("magnet"),
              Table.Column.ofNumbers("seatings"),
              Table.Column.ofNumbers("mean/G"),
              Table.Column.ofNumbers("from least to most/G"),
              Table.Column.ofNumbers("standard deviation/G"),
              Table.Column.ofNumbers("of mean/%")),
          study.magnets().stream()
              .map(
                  magnet ->
                      List.of(
                          magnet.magnet(),
                          String.valueOf(magnet.readings().size()),
                          gauss(magnet.mean(), 1),
                          gauss(magnet.range(), 2),
                          gauss(magnet.deviation(), 3),
                          said("%.3f", 100 * Math.abs(magnet.deviation() / magnet.mean()))))
              .toList());
    }
  }
}
