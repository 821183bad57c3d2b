package lodestep.cli;

import static lodestep.cli.GaugeCommands.gauss;
import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.CheckJob;
import lodestep.bench.CheckWork;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.GaugeRecord;
import lodestep.measure.EwmaChart;
import lodestep.measure.GaugeControl;
import lodestep.measure.IndividualsChart;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.port.GaugeEvent.ReferenceRead;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Checks of the gauge by reference magnets, and their chart. */
final class GaugeCheckCommands {

  private GaugeCheckCommands() {}

  private static ReferenceConfig reference(RigConfig rig, @Nullable String name) {
    List<ReferenceConfig> all = rig.gauge().references();
    if (all.isEmpty()) {
      throw new Refusal(
          "the rig '"
              + rig.name()
              + "' names no reference magnet; add a [[reference]] with name, value, uncertainty,"
              + " nest and date to its rig.toml");
    }
    return name == null
        ? all.get(0)
        : all.stream()
            .filter(one -> one.name().equalsIgnoreCase(name))
            .findFirst()
            .orElseThrow(
                () ->
                    new Refusal(
                        "--reference: there is no '"
                            + name
                            + "'; the rig's are: "
                            + String.join(", ", all.stream().map(ReferenceConfig::name).toList())));
  }

  /** Which reference magnet of which rig, on which record. Filled by the command line. */
  static final class Whose {

    @Option(
        names = "--reference",
        paramLabel = "NAME",
        description = "a [[reference]] of the rig; the first if left out")
    private @Nullable String name;

    @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
    private @Nullable Path ledger;

    @Option(
        names = "--rig",
        paramLabel = "RIG",
        description = "rig.toml; the virtual rig if left out")
    private @Nullable Path rigFile;

    RigConfig rig(Desk desk) {
      return desk.program().rig(Optional.ofNullable(rigFile));
    }

    ReferenceConfig reference(RigConfig rig) {
      return GaugeCheckCommands.reference(rig, name);
    }

    Path ledger(Desk desk) {
      return desk.ledger(ledger, rigFile);
    }
  }

  @Command(
      name = "check",
      description = "Guides a check of the gauge by a reference magnet; nothing is driven.",
      footer = {
        "",
        "Zero, reading as found, judged by the certificate and by the chart. Out of",
        "control: look for the cause, mend it, and read again as left (n leaves it so).",
        "A gauge out of control accepts nothing until it is checked again.",
        "",
        "Example: lodestep gauge check --reference \"house rod\""
      })
  static final class Check extends Asked {

    private final Desk desk;

    @Mixin private Whose whose = new Whose();

    @Option(
        names = "--seed",
        paramLabel = "NUMBER",
        defaultValue = "1",
        description = "of a virtual rig: another seed, another seating")
    private long seed;

    @Option(names = "--json", description = "the result as JSON, everything else on stderr")
    private boolean json;

    Check(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = whose.rig(desk);
      ReferenceConfig reference = whose.reference(rig);
      PrintWriter told = json ? desk.err() : desk.out();
      if (rig.kind() == RigKind.VIRTUAL) {
        told.println("VIRTUAL: " + rig.name() + ", no hardware");
      }
      Cautions.showFor(rig, told);
      Screen screen = new Screen(told, desk.program().terminal());
      GuidedReport report = new GuidedReport(screen, true);
      CheckJob.Done done =
          desk.program()
              .gauge()
              .check(new GaugeWork.CheckRun(rig, reference, whose.ledger(desk), seed), report);
      report.ends(done.sentence());
      if (json) {
        ObjectNode node = Json.object();
        node.put("reference", reference.name());
        node.put("nest", reference.nest());
        node.put("certificateMicroTesla", reference.value().microTesla());
        done.last().ifPresent(read -> node.put("fieldMicroTesla", read.value().microTesla()));
        node.put("inControl", done.inControl());
        node.put("why", String.join("; ", done.against()));
        desk.print(node);
      }
      return done.inControl() ? Desk.DONE : Desk.NOT_ACCEPTED;
    }
  }

  @Command(
      name = "chart",
      description = "Shows the control chart of a reference magnet's readings on record.",
      footer = {
        "",
        "Individuals with moving ranges, and a weighted mean (weight 0.3) that sees",
        "small lasting shifts. The limits come from the first readings that were in",
        "order, eight at least.",
        "",
        "Example: lodestep gauge chart --reference \"house rod\""
      })
  static final class Chart extends Asked {

    private final Desk desk;

    @Mixin private Whose whose = new Whose();

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    Chart(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      RigConfig rig = whose.rig(desk);
      ReferenceConfig reference = whose.reference(rig);
      GaugeRecord record = desk.program().gauge().gaugeRecord(whose.ledger(desk));
      List<GaugeRecord.Entry<ReferenceRead>> readings =
          record.readingsOf(reference.name(), rig.nest(reference.nest()));
      GaugeControl control =
          CheckWork.control(
              reference,
              Seatings.of(desk, rig.nest(reference.nest()), whose.ledger(desk), null),
              CheckWork.points(record, reference.name(), rig.nest(reference.nest())));
      Optional<GaugeJudged> standing = record.standing(reference.nest());
      if (json) {
        desk.print(document(readings, control, standing));
      } else {
        desk.print(words(reference, readings, control, standing));
      }
      return standing.map(GaugeJudged::inControl).orElse(true) ? Desk.DONE : Desk.NOT_ACCEPTED;
    }

    private static List<String> words(
        ReferenceConfig reference,
        List<GaugeRecord.Entry<ReferenceRead>> readings,
        GaugeControl control,
        Optional<GaugeJudged> standing) {
      List<String> lines = new ArrayList<>();
      lines.add(
          said(
              "%s in the %s: certificate of %s says %s ± %s (k = 2)",
              reference.name(),
              reference.nest(),
              reference.date(),
              reference.value().inGauss(),
              reference.uncertainty().inGauss()));
      if (readings.isEmpty()) {
        lines.add("No reading of it is on record; take one: lodestep gauge check");
        return lines;
      }
      lines.addAll(table(readings, control).lines());
      lines.add("");
      lines.add(limits(control));
      lines.add(
          standing
              .map(judged -> judged.inControl() ? "In control." : "Out of control: " + judged.why())
              .orElse("Not judged yet."));
      return lines;
    }

    private static String limits(GaugeControl control) {
      return control
          .chart()
          .map(
              chart ->
                  said(
                      "Centre %s G, limits %s to %s G, a step at most %s G; standard deviation"
                          + " %s G",
                      gauss(chart.centre(), 2),
                      gauss(chart.lower(), 2),
                      gauss(chart.upper(), 2),
                      gauss(chart.rangeUpper(), 2),
                      gauss(chart.sigma(), 3)))
          .orElse(
              said("No limits yet: they need %d readings in order.", IndividualsChart.POINTS_MIN));
    }

    private static Table table(
        List<GaugeRecord.Entry<ReferenceRead>> readings, GaugeControl control) {
      List<Double> points = control.points().stream().map(point -> point.value().tesla()).toList();
      List<Double> means =
          control
              .chart()
              .map(chart -> new EwmaChart(chart.centre(), chart.sigma(), EwmaChart.WEIGHT))
              .map(chart -> chart.means(points))
              .orElse(List.of());
      List<List<String>> rows = new ArrayList<>();
      for (int at = 0; at < readings.size(); at++) {
        ReferenceRead read = readings.get(at).event();
        double value = points.get(at);
        rows.add(
            List.of(
                String.valueOf(readings.get(at).number()),
                // To the minute, of Greenwich.
                Instant.ofEpochMilli(readings.get(at).wallEpochMs())
                    .toString()
                    .substring(0, 16)
                    .replace('T', ' '),
                read.stage(),
                gauss(value, 2),
                said("%+.2f", (value - read.certificateMicroTesla() * 1e-6) * 1e4),
                at == 0 ? "" : gauss(Math.abs(value - points.get(at - 1)), 2),
                means.isEmpty() ? "" : gauss(means.get(at), 2),
                control.points().get(at).good() ? "" : "out of control"));
      }
      return new Table(
          List.of(
              Table.Column.ofNumbers("entry"),
              Table.Column.ofWords("when (UTC)"),
              Table.Column.ofWords("stage"),
              Table.Column.ofNumbers("reads/G"),
              Table.Column.ofNumbers("off/G"),
              Table.Column.ofNumbers("step/G"),
              Table.Column.ofNumbers("weighted/G"),
              Table.Column.ofWords("")),
          rows);
    }

    private static ObjectNode document(
        List<GaugeRecord.Entry<ReferenceRead>> readings,
        GaugeControl control,
        Optional<GaugeJudged> standing) {
      ObjectNode node = Json.object();
      ArrayNode all = node.putArray("readings");
      for (GaugeRecord.Entry<ReferenceRead> entry : readings) {
        ObjectNode each = all.addObject();
        each.put("entry", entry.number());
        each.set("event", Json.ofRecord(entry.event()));
      }
      control
          .chart()
          .ifPresent(
              chart -> {
                node.put("centreTesla", chart.centre());
                node.put("lowerTesla", chart.lower());
                node.put("upperTesla", chart.upper());
                node.put("stepUpperTesla", chart.rangeUpper());
              });
      standing.ifPresent(judged -> node.put("inControl", judged.inControl()));
      return node;
    }
  }
}
