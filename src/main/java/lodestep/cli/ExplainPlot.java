package lodestep.cli;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.dial.Explained;
import lodestep.ledger.MagnetActs;
import lodestep.port.Plot;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/** What explains a magnet, drawn. Pure. */
final class ExplainPlot {

  private ExplainPlot() {}

  /** What was expected of its curve before and after, and what was read. */
  static Plot of(String title, Explained explained) {
    List<Explained.Step> steps =
        explained.steps().stream().sorted(Comparator.comparing(Explained.Step::field)).toList();
    List<Plot.Curve> curves = new ArrayList<>();
    curves.add(curve("expected once charged", explained.before(), Explained.FieldFor::expected));
    curves.add(curve("likely least field", explained.before(), Explained.FieldFor::least));
    curves.add(curve("likely most field", explained.before(), Explained.FieldFor::most));
    curves.add(curve("expected at the end", explained.after(), Explained.FieldFor::expected));
    curves.add(
        new Plot.Curve(
            "read",
            steps.stream().map(step -> kiloAmperes(step.field().amperesPerMetre())).toList(),
            steps.stream().map(step -> step.read().gauss()).toList(),
            false));
    return new Plot(title, "reverse peak, kA/m", "left, G", curves);
  }

  /**
   * What it read act by act: over the field where it was only knocked down and each field is known,
   * else in their order. Empty if nothing was read.
   */
  static Optional<Plot> of(String title, MagnetActs acts) {
    List<MagnetActs.Row> read =
        acts.rows().stream().filter(row -> row.afterMicroTesla().isPresent()).toList();
    if (read.isEmpty()) {
      return Optional.empty();
    }
    List<MagnetActs.Row> made = read.stream().filter(MagnetActs.Row::isAct).toList();
    List<MagnetActs.Row> down =
        made.stream().filter(row -> row.what().equals("knock down")).toList();
    boolean byField =
        down.size() > 1
            && made.stream().allMatch(row -> down.contains(row) || row.what().equals("proof"))
            && down.stream().allMatch(row -> row.fieldAperM().isPresent())
            && made.stream().map(MagnetActs.Row::attempt).distinct().count() == 1;
    return Optional.of(
        byField
            ? new Plot(title, "reverse peak, kA/m", "left, G", List.of(overField(down)))
            : new Plot(title, "acts, in their order", "reads, G", List.of(inOrder(read))));
  }

  private static Plot.Curve overField(List<MagnetActs.Row> made) {
    List<MagnetActs.Row> rising =
        made.stream()
            .sorted(Comparator.comparingDouble(row -> row.fieldAperM().getAsDouble()))
            .toList();
    List<Double> fields = new ArrayList<>();
    List<Double> levels = new ArrayList<>();
    made.get(0)
        .beforeMicroTesla()
        .ifPresent(
            found -> {
              fields.add(0.0);
              levels.add(FluxDensity.ofMicroTesla(found).gauss());
            });
    for (MagnetActs.Row row : rising) {
      fields.add(kiloAmperes(row.fieldAperM().getAsDouble()));
      levels.add(gauss(row));
    }
    return new Plot.Curve("read", fields, levels, false);
  }

  /** What was read with nothing done yet stands at nought. */
  private static Plot.Curve inOrder(List<MagnetActs.Row> read) {
    List<Double> order = new ArrayList<>();
    for (int at = 0; at < read.size(); at++) {
      order.add((double) at + (read.get(0).isAct() ? 1 : 0));
    }
    return new Plot.Curve(
        "read", order, read.stream().map(ExplainPlot::gauss).toList(), read.size() > 1);
  }

  private static double gauss(MagnetActs.Row row) {
    return FluxDensity.ofMicroTesla(row.afterMicroTesla().getAsLong()).gauss();
  }

  private static Plot.Curve curve(
      String name,
      List<Explained.FieldFor> fields,
      Function<Explained.FieldFor, FieldStrength> which) {
    return new Plot.Curve(
        name,
        fields.stream().map(field -> kiloAmperes(which.apply(field).amperesPerMetre())).toList(),
        fields.stream().map(field -> field.level().gauss()).toList());
  }

  private static double kiloAmperes(double amperesPerMetre) {
    return amperesPerMetre * 1e-3;
  }
}
