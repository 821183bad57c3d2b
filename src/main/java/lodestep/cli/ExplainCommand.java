package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.bench.Plan;
import lodestep.bench.PlanRow;
import lodestep.bench.Prepared;
import lodestep.bench.ShownCurve;
import lodestep.config.RigConfig;
import lodestep.dial.Explained;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MagnetHistory;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.Plot;
import lodestep.port.StoredEvent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Why a magnet got the pulses that it got. */
@Command(
    name = "explain",
    description = "Why a magnet got its pulses: what was expected of each, and why it ended.",
    footer = {"", "Example: lodestep explain split-3 --plot split-3.svg"})
final class ExplainCommand extends Asked {

  private final Desk desk;

  @Parameters(paramLabel = "MAGNET", description = "its number or its name")
  private String magnet = "";

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
  private @Nullable Path rig;

  @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  ExplainCommand(Desk desk) {
    this.desk = desk;
  }

  /** One magnet with what explains it. */
  private record Case(
      MagnetHistory history,
      ShownCurve shown,
      Explained explained,
      FluxDensity target,
      String why,
      List<String> kept) {

    String title() {
      return history.identity().name() + ", " + shown.kind();
    }
  }

  @Override
  public Integer call() {
    Case newest = newest();
    Plot plot = plot(newest);
    MagnetCommands.drawn(desk, plot, file);
    if (json) {
      desk.print(asJson(newest));
    } else {
      desk.print(words(newest, plot));
    }
    return Desk.DONE;
  }

  /** Of several magnets of one name the newest. */
  private Case newest() {
    Path of = desk.ledger(ledger, rig);
    RigConfig config = desk.program().rig(Optional.ofNullable(rig));
    List<MagnetHistory> histories = RecordCommands.histories(desk, of, magnet);
    MagnetHistory history = histories.get(histories.size() - 1);
    String name = history.identity().name();
    try (LedgerArchive archive = desk.program().archive(of)) {
      List<ShownCurve> all = ShownCurve.all(archive);
      ShownCurve shown =
          ShownCurve.newestOf(all, history.magnet())
              .orElseThrow(
                  () ->
                      new Refusal(
                          "there is nothing to explain of "
                              + name
                              + ": no attempt has charged and knocked it down to a"
                              + " verdict; what was done says: lodestep history "
                              + name));
      Prepared prepared = Prepared.of(row(archive, history, config, of), config);
      FluxDensity target =
          FluxDensity.ofMicroTesla(Math.abs(history.identity().targetMicroTesla()));
      Explained explained =
          Explained.of(
              prepared.family(),
              prepared.expectedFull(),
              prepared.knockDown(),
              prepared.row().alloy().coercivityJ(),
              target,
              shown.before(all),
              shown.curve());
      String why =
          history
              .standingVerdict()
              .map(verdict -> verdict.verdict() + ": " + verdict.why())
              .orElse("its newest attempt has no verdict");
      return new Case(history, shown, explained, target, why, RecordCommands.kept(history, config));
    }
  }

  /** The row of its plan, as it stands in the ledger. */
  private PlanRow row(LedgerArchive archive, MagnetHistory history, RigConfig config, Path of) {
    LedgerEvent.MagnetNamed identity = history.identity();
    List<StoredEvent> begun = new ArrayList<>();
    archive.forEach(identity.batch(), identity.batch(), begun::add);
    if (begun.isEmpty()
        || !(EventCodec.decode(begun.get(0)).event() instanceof LedgerEvent.BatchStarted batch)) {
      throw new Refusal(identity.name() + " was worked by hand, in no batch; its history says how");
    }
    Plan plan =
        desk.program()
            .planText(batch.name(), batch.planText(), config, of)
            .match(
                read -> read,
                refused -> {
                  throw new Refusal(
                      "this rig is not the one that "
                          + identity.name()
                          + " was dialed on, name that one with --rig: "
                          + refused.written());
                });
    return plan.rows().stream()
        .filter(row -> row.line() == identity.row())
        .findFirst()
        .orElseThrow(() -> new Refusal("the plan of " + identity.name() + " has no such row"));
  }

  private List<String> words(Case of, Plot plot) {
    Explained explained = of.explained();
    List<String> lines = new ArrayList<>(List.of(plot.title(), ""));
    lines.addAll(Wrapped.lines("", beforehand(of), MagnetCommands.COLUMNS));
    lines.add("");
    lines.addAll(table(explained).lines());
    lines.add("");
    lines.addAll(Wrapped.lines("", "It ended " + of.why() + ".", MagnetCommands.COLUMNS));
    lines.addAll(of.kept());
    lines.add("");
    lines.addAll(TerminalPlot.lines(plot));
    return lines;
  }

  private static String beforehand(Case of) {
    Explained explained = of.explained();
    int taught = explained.taughtBy();
    double full = of.shown().curve().charges().get(0).get(0).levelTesla();
    Explained.FieldFor doubt = explained.before().get(explained.before().size() / 2);
    double part = Math.sqrt(doubt.most().amperesPerMetre() / doubt.least().amperesPerMetre()) - 1;
    String by =
        taught == 0
            ? "by its alloy and shape alone"
            : taught == 1
                ? "by alloy, shape and one magnet of its kind before it"
                : "by alloy, shape and the " + taught + " magnets of its kind before it";
    return MagnetCommands.said(
        "Its full charge read %s, and %s was wanted. Its curve was then known %s, to about %.0f %%"
            + " of the field (k = 2). Each pulse is the largest whose chance of landing below the"
            + " tolerance is under one in a hundred, and never more than leads to the target.",
        new FluxDensity(full).inGauss(), of.target().inGauss(), by, 100 * part);
  }

  private static Table table(Explained explained) {
    List<List<String>> rows = new ArrayList<>();
    for (Explained.Step step : explained.steps()) {
      Explained.FieldFor next = step.toTarget();
      rows.add(
          List.of(
              Integer.toString(step.charge()),
              Integer.toString(rows.size() + 1),
              step.field().written(),
              step.expected().inGauss()
                  + " ± "
                  + new FluxDensity(2 * step.uncertainty().tesla()).inGauss(),
              step.read().inGauss(),
              MagnetCommands.said(
                  "%.2f (%.2f to %.2f) kA/m",
                  kiloAmperes(next.expected()),
                  kiloAmperes(next.least()),
                  kiloAmperes(next.most()))));
    }
    return new Table(
        List.of(
            Table.Column.ofNumbers("charge"),
            Table.Column.ofNumbers("pulse"),
            Table.Column.ofNumbers("peak"),
            Table.Column.ofNumbers("expected (k = 2)"),
            Table.Column.ofNumbers("read"),
            Table.Column.ofNumbers("then to the target")),
        rows);
  }

  private static Plot plot(Case of) {
    Explained explained = of.explained();
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
            steps.stream().map(step -> kiloAmperes(step.field())).toList(),
            steps.stream().map(step -> step.read().gauss()).toList(),
            false));
    return new Plot("Why " + of.title(), "reverse peak, kA/m", "left, G", curves);
  }

  private static Plot.Curve curve(
      String name,
      List<Explained.FieldFor> fields,
      Function<Explained.FieldFor, FieldStrength> which) {
    return new Plot.Curve(
        name,
        fields.stream().map(field -> kiloAmperes(which.apply(field))).toList(),
        fields.stream().map(field -> field.level().gauss()).toList());
  }

  private static double kiloAmperes(FieldStrength field) {
    return field.amperesPerMetre() * 1e-3;
  }

  private ObjectNode asJson(Case of) {
    ObjectNode node = Json.object();
    node.put("magnet", of.history().magnet());
    node.put("name", of.history().identity().name());
    node.put("kind", of.shown().kind());
    node.put("attempt", of.shown().attempt());
    node.put("taughtBy", of.explained().taughtBy());
    node.put("targetTesla", of.target().tesla());
    node.put("ended", of.why());
    ArrayNode steps = node.putArray("steps");
    for (Explained.Step step : of.explained().steps()) {
      ObjectNode each = steps.addObject();
      each.put("charge", step.charge());
      each.put("peakAmperesPerMetre", step.field().amperesPerMetre());
      each.put("expectedTesla", step.expected().tesla());
      each.put("expectedStandardUncertaintyTesla", step.uncertainty().tesla());
      each.put("readTesla", step.read().tesla());
      put(each.putObject("toTarget"), step.toTarget());
    }
    ArrayNode before = node.putArray("before");
    of.explained().before().forEach(field -> put(before.addObject(), field));
    ArrayNode after = node.putArray("after");
    of.explained().after().forEach(field -> put(after.addObject(), field));
    return node;
  }

  private static void put(ObjectNode node, Explained.FieldFor field) {
    node.put("levelTesla", field.level().tesla());
    node.put("leastAmperesPerMetre", field.least().amperesPerMetre());
    node.put("expectedAmperesPerMetre", field.expected().amperesPerMetre());
    node.put("mostAmperesPerMetre", field.most().amperesPerMetre());
  }
}
