package lodestep.cli;

import static lodestep.cli.GaugeCommands.gauss;
import static lodestep.cli.MagnetCommands.said;

import java.util.ArrayList;
import java.util.List;
import lodestep.measure.CrossedStudy.Analysis;
import lodestep.measure.CrossedStudy.Scatter;
import lodestep.measure.CrossedStudy.Source;
import lodestep.measure.PlacementStudy;
import org.jspecify.annotations.Nullable;

/** Tables of studies. */
final class StudyTables {

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
                Table.Column.ofNumbers("s by variance/G"),
                Table.Column.ofNumbers("of all/%"),
                Table.Column.ofNumbers("s by ranges/G"),
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
