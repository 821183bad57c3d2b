package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import lodestep.bench.ShownCurve;
import lodestep.dial.Explained;
import lodestep.dial.PlannerMode;
import lodestep.dial.Task;
import lodestep.ledger.MagnetActs;
import lodestep.ledger.MagnetHistory;
import lodestep.paper.AskedWords;
import lodestep.port.LedgerEvent;
import lodestep.port.Plot;
import lodestep.port.StockEvent.TargetTold;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * What explains a magnet, in words: what was done to it and read of it, what was expected where a
 * curve was there to go by, and why it ended. Any thread, immutable.
 *
 * @param expected empty where no curve was there to go by
 * @param why it is empty, in sentences
 * @param kept what it keeps and where to put it
 */
record ExplainWords(
    MagnetHistory history, Optional<Expected> expected, String why, List<String> kept) {

  /**
   * What was expected of it.
   *
   * @param alloyKnown whether anyone knows its alloy
   */
  record Expected(ShownCurve shown, Explained explained, boolean alloyKnown) {}

  /** An act with what was expected of it, if anything was. */
  private record Line(MagnetActs.Row row, Optional<Explained.Step> step) {}

  /** Why no curve of a magnet is on record, of which none is. */
  static String noCurve(MagnetHistory history) {
    if (planner(history).equals("by hand")) {
      return "It was worked by hand: each approach was ended by what the gauge read at that"
          + " moment, and by what the one before had left. No opposing field was measured, so"
          + " that there is no curve over the field and nothing was expected of one.";
    }
    return switch (history.identity().task()) {
      case Task.DEMAGNETISE_WORD ->
          "It was to be uncharged: by pulses aimed at leaving nothing, each by what those before"
              + " it had left, or by pulses that fall step by step; which, its end says. It was not"
              + " knocked down from a full charge, so that no curve of its own is on record and"
              + " nothing can be told of what was expected of one.";
      case Task.FULL_CHARGE_WORD ->
          "A full charge was asked for: it is proven by a second, stronger charge, and no"
              + " knock-down curve has a part in it.";
      case "down-by" ->
          "It was taken down from what it read as it came. Without a charge its past is not"
              + " known, so that nothing was expected of a curve of its own: each pulse is the"
              + " longest that stays above the target even where a usual magnet's curve is"
              + " steepest.";
      default ->
          "No attempt has charged it and knocked it down to a verdict, so that no curve of it is"
              + " on record and nothing can be told of what was expected.";
    };
  }

  private static String planner(MagnetHistory history) {
    return history.happenings().stream()
        .filter(one -> one.what() instanceof MagnetHistory.What.Started)
        .map(one -> ((MagnetHistory.What.Started) one.what()).event().planner())
        .reduce("", (first, second) -> second);
  }

  /** What a person reads. */
  List<String> lines() {
    List<String> lines = new ArrayList<>(List.of(title(), ""));
    lines.addAll(wrapped(wanted()));
    lines.addAll(wrapped(expected.map(this::beforehand).orElse(why)));
    lines.add("");
    lines.addAll(table().lines());
    lines.add("");
    lines.addAll(wrapped(ended()));
    lines.addAll(kept);
    plot()
        .ifPresent(
            drawn -> {
              lines.add("");
              lines.addAll(TerminalPlot.lines(drawn));
            });
    return lines;
  }

  private static List<String> wrapped(String text) {
    return Wrapped.lines("", text, MagnetCommands.COLUMNS);
  }

  private String title() {
    return "Why "
        + history.identity().name()
        + ", "
        + expected
            .map(known -> known.shown().kind())
            .orElseGet(
                () -> {
                  LedgerEvent.MagnetNamed named = history.identity();
                  return named.alloy()
                      + ", "
                      + named.shape()
                      + " "
                      + AskedWords.size(named)
                      + ", "
                      + named.nest();
                });
  }

  /** What was asked of it, as it was told. */
  private String wanted() {
    String asked = AskedWords.of(history.identity());
    String target = asked.substring(asked.indexOf("target ") + "target ".length());
    return toldBy()
        .map(
            told ->
                gauss(told.targetMicroTesla())
                    + " ± "
                    + gauss(told.toleranceMicroTesla())
                    + " by "
                    + told.gauge()
                    + " was wanted; as the nest reads it, that is "
                    + target
                    + ".")
        .orElse("Wanted: " + target + ".");
  }

  private Optional<TargetTold> toldBy() {
    return history.happenings().stream()
        .map(MagnetHistory.Happening::what)
        .filter(MagnetHistory.What.Corrected.class::isInstance)
        .map(what -> ((MagnetHistory.What.Corrected) what).event())
        .filter(TargetTold.class::isInstance)
        .map(TargetTold.class::cast)
        .reduce((first, second) -> second);
  }

  private String ended() {
    return history
        .standingVerdict()
        .map(
            verdict ->
                "It ended " + verdict.verdict() + ": " + verdict.why() + "." + guarded(verdict))
        .orElse(
            history.attempts() == 0
                ? "It was never started."
                : "Its newest attempt has no verdict yet.");
  }

  /** By how much less than was asked it had to lie inside; nothing where no level was judged. */
  private static String guarded(LedgerEvent.VerdictGiven verdict) {
    return verdict.guardNanoTesla() == 0
        ? ""
        : said(
            " The tolerance was narrowed by a guard band of %.1f G on either side: twice the"
                + " standard uncertainty of its level, the seating counted.",
            verdict.guardNanoTesla() * 1e-5);
  }

  private String beforehand(Expected known) {
    Explained explained = known.explained();
    double full = known.shown().curve().charges().get(0).get(0).levelTesla();
    Explained.FieldFor doubt = explained.before().get(explained.before().size() / 2);
    double part = Math.sqrt(doubt.most().amperesPerMetre() / doubt.least().amperesPerMetre()) - 1;
    return said(
            "Its full charge read %s. Its curve was then known %s, to about %.0f %% of the field"
                + " (k = 2). ",
            new FluxDensity(full).inGauss(), knownBy(known), 100 * part)
        + (planner(history).equals(PlannerMode.SMALL_STEPS.word())
            ? "It was knocked down by equal small steps, each too small to cross the accepted band"
                + " where a usual magnet's curve is steepest; what was expected stands beside"
                + " them, and had no part in choosing them."
            : "Each pulse is the largest whose chance of landing below the tolerance is under one"
                + " in a hundred, and never more than leads to the target.");
  }

  private static String knownBy(Expected known) {
    int taught = known.explained().taughtBy();
    String kind = known.alloyKnown() ? "alloy" : "what alnico can be";
    if (taught == 0) {
      return known.alloyKnown()
          ? "by its alloy and shape alone"
          : "by its shape and what alnico can be, nobody knowing its alloy";
    }
    return taught == 1
        ? "by " + kind + ", shape and one magnet of its kind before it"
        : "by " + kind + ", shape and the " + taught + " magnets of its kind before it";
  }

  /** Each act with its step, in the order of both. */
  private List<Line> all() {
    List<Explained.Step> steps = expected.map(known -> known.explained().steps()).orElse(List.of());
    long attempt = expected.map(known -> known.shown().attempt()).orElse(0L);
    List<Line> lines = new ArrayList<>();
    int next = 0;
    for (MagnetActs.Row row : MagnetActs.of(history).rows()) {
      boolean its = row.attempt() == attempt && next < steps.size() && isStep(row, steps.get(next));
      lines.add(new Line(row, its ? Optional.of(steps.get(next)) : Optional.empty()));
      next += its ? 1 : 0;
    }
    return lines;
  }

  private static boolean isStep(MagnetActs.Row row, Explained.Step step) {
    return row.what().equals("knock down")
        && row.afterMicroTesla().isPresent()
        && Math.abs(row.afterMicroTesla().getAsLong()) == Math.abs(step.read().microTesla());
  }

  private Table table() {
    List<Table.Column> columns = new ArrayList<>();
    boolean several = history.attempts() > 1;
    if (several) {
      columns.add(Table.Column.ofNumbers("attempt"));
    }
    columns.add(Table.Column.ofWords("what"));
    columns.add(Table.Column.ofNumbers("peak"));
    columns.add(Table.Column.ofNumbers("before"));
    if (expected.isPresent()) {
      columns.add(Table.Column.ofNumbers("expected (k = 2)"));
    }
    columns.add(Table.Column.ofNumbers("read"));
    columns.add(Table.Column.ofWords(expected.isPresent() ? "then to the target" : "how it went"));
    return new Table(columns, all().stream().map(line -> cells(line, several)).toList());
  }

  private List<String> cells(Line line, boolean several) {
    MagnetActs.Row row = line.row();
    List<String> cells = new ArrayList<>();
    if (several) {
      cells.add(Long.toString(row.attempt()));
    }
    cells.add(
        (row.byHand() ? "by hand, " : "")
            + row.what()
            + row.north().map(north -> north ? ", north" : ", south").orElse(""));
    cells.add(
        row.fieldAperM().isPresent()
            ? new FieldStrength(row.fieldAperM().getAsDouble()).written()
            : "");
    cells.add(gauss(row.beforeMicroTesla()));
    if (expected.isPresent()) {
      cells.add(
          line.step()
              .map(
                  step ->
                      step.expected().inGauss()
                          + " ± "
                          + new FluxDensity(2 * step.uncertainty().tesla()).inGauss())
              .orElse(""));
    }
    cells.add(gauss(row.afterMicroTesla()));
    cells.add(line.step().map(step -> toTarget(step.toTarget())).orElse(row.how()));
    return cells;
  }

  private static String toTarget(Explained.FieldFor next) {
    return said(
        "%.2f (%.2f to %.2f) kA/m",
        kiloAmperes(next.expected()), kiloAmperes(next.least()), kiloAmperes(next.most()));
  }

  private static String gauss(OptionalLong microTesla) {
    return microTesla.isPresent() ? gauss(microTesla.getAsLong()) : "";
  }

  private static String gauss(long microTesla) {
    return FluxDensity.ofMicroTesla(microTesla).inGauss();
  }

  private static double kiloAmperes(FieldStrength field) {
    return field.amperesPerMetre() * 1e-3;
  }

  /** Empty if nothing was read of it. */
  Optional<Plot> plot() {
    return expected
        .map(known -> ExplainPlot.of(title(), known.explained()))
        .or(() -> ExplainPlot.of(title(), MagnetActs.of(history)));
  }

  /** As JSON, in SI units. */
  ObjectNode document() {
    ObjectNode node = Json.object();
    node.put("magnet", history.magnet());
    node.put("name", history.identity().name());
    expected.ifPresent(known -> node.put("kind", known.shown().kind()));
    expected.ifPresent(known -> node.put("attempt", known.shown().attempt()));
    expected.ifPresent(known -> node.put("taughtBy", known.explained().taughtBy()));
    node.put("targetTesla", Math.abs(history.identity().targetMicroTesla()) * 1e-6);
    node.put("wanted", wanted());
    node.put("ended", ended());
    node.put("nothingExpectedWhy", why);
    ArrayNode acts = node.putArray("acts");
    all().forEach(line -> put(acts.addObject(), line.row()));
    expected.ifPresent(known -> put(node, known.explained()));
    return node;
  }

  private static void put(ObjectNode node, MagnetActs.Row row) {
    node.put("entry", row.number());
    node.put("attempt", row.attempt());
    node.put("what", row.what());
    row.north().ifPresent(north -> node.put("drivesNorth", north));
    node.put("byHand", row.byHand());
    row.fieldAperM().ifPresent(field -> node.put("peakAmperesPerMetre", field));
    row.beforeMicroTesla().ifPresent(level -> node.put("beforeTesla", level * 1e-6));
    row.afterMicroTesla().ifPresent(level -> node.put("afterTesla", level * 1e-6));
    node.put("how", row.how());
  }

  private static void put(ObjectNode node, Explained explained) {
    ArrayNode steps = node.putArray("steps");
    for (Explained.Step step : explained.steps()) {
      ObjectNode each = steps.addObject();
      each.put("charge", step.charge());
      each.put("peakAmperesPerMetre", step.field().amperesPerMetre());
      each.put("expectedTesla", step.expected().tesla());
      each.put("expectedStandardUncertaintyTesla", step.uncertainty().tesla());
      each.put("readTesla", step.read().tesla());
      put(each.putObject("toTarget"), step.toTarget());
    }
    ArrayNode before = node.putArray("before");
    explained.before().forEach(field -> put(before.addObject(), field));
    ArrayNode after = node.putArray("after");
    explained.after().forEach(field -> put(after.addObject(), field));
  }

  private static void put(ObjectNode node, Explained.FieldFor field) {
    node.put("levelTesla", field.level().tesla());
    node.put("leastAmperesPerMetre", field.least().amperesPerMetre());
    node.put("expectedAmperesPerMetre", field.expected().amperesPerMetre());
    node.put("mostAmperesPerMetre", field.most().amperesPerMetre());
  }
}
