package lodestep.cli;

import static lodestep.cli.GaugeCommands.understood;
import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.PointSeries;
import lodestep.bench.PointsAsked;
import lodestep.bench.SeriesJob;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MagnetHistory;
import lodestep.port.GaugeEvent.PointRead;
import lodestep.port.GaugeEvent.PointsJudged;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** One magnet read at several points along its edge, and on both faces. */
@Command(
    name = "points",
    description = "Guides the reading of one magnet at several points and on both faces.",
    footer = {
      "",
      "The magnet is one on record; nothing is driven, and every reading goes on",
      "record with its place.",
      "",
      "Points are parts of the length from the left end: middle, 1/6, 5/6 and so on.",
      "Where, and which figure counts, is said by the plan (columns 'read at' and",
      "'counts') or by the options; a bar of which neither says anything is read at",
      "1/6, middle and 5/6 of both faces, and the middle of its strings face counts.",
      "",
      "Example: lodestep points wren-2 --at \"1/6; middle; 5/6; both faces\" \\",
      "           --counts \"mean of both faces\""
    })
final class PointsCommand extends Asked {

  private final Desk desk;

  @Parameters(paramLabel = "MAGNET", description = "its number or its name on record")
  private String magnet = "";

  @Option(
      names = "--at",
      paramLabel = "POINTS",
      description = "\"1/6; middle; 5/6; both faces\"; as the plan says if left out")
  private @Nullable String at;

  @Option(
      names = "--counts",
      paramLabel = "FIGURE",
      description = "middle, mean or least, with \"of both faces\" or \"of the other face\"")
  private @Nullable String counts;

  @Option(names = "--nest", paramLabel = "NEST", description = "the magnet's own if left out")
  private @Nullable String nestName;

  @Option(
      names = "--seed",
      paramLabel = "NUMBER",
      defaultValue = "1",
      description = "of a virtual rig: another seed, another placing")
  private long seed;

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
  private @Nullable Path rigFile;

  @Option(names = "--json", description = "the result as JSON, everything else on stderr")
  private boolean json;

  PointsCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
    Path file = desk.ledger(ledger, rigFile);
    List<MagnetHistory> found = RecordCommands.histories(desk, file, magnet);
    // Of several magnets of one name the newest.
    MagnetHistory history = found.get(found.size() - 1);
    PointSeries.Subject subject = understood(() -> PointSeries.Subject.of(history));
    PointsAsked asked = asked(file, history, subject);
    asked
        .objection(subject.shape())
        .ifPresent(
            why -> {
              throw new Refusal("--at: " + why);
            });
    NestConfig nest = nest(rig, history, subject);
    PointSeries series = new PointSeries(subject, asked, nest, Seatings.of(desk, nest, file, null));
    PrintWriter told = json ? desk.err() : desk.out();
    if (rig.kind() == RigKind.VIRTUAL) {
      told.println("VIRTUAL: " + rig.name() + ", no hardware");
    }
    Cautions.showFor(rig, told);
    Screen screen = new Screen(told, desk.program().terminal());
    GuidedReport report = new GuidedReport(screen, true);
    SeriesJob.Done done =
        desk.program()
            .gauge()
            .points(new GaugeWork.PointsRun(rig, history, series, file, seed), report);
    report.ends(done.sentence());
    return done.series().complete()
        ? told(series, ofSeries(file, done.series().number(), subject.magnet()))
        : Desk.NOT_ACCEPTED;
  }

  private NestConfig nest(RigConfig rig, MagnetHistory history, PointSeries.Subject subject) {
    NestConfig nest =
        GaugeRigCommands.nest(rig, nestName == null ? history.identity().nest() : nestName);
    if (!nest.shape().equals(subject.shape().kind())) {
      throw new Refusal("--nest: the " + nest.name() + " is for a " + nest.shape());
    }
    return nest;
  }

  /** By the options, by the plan, or as usual. */
  private PointsAsked asked(Path file, MagnetHistory history, PointSeries.Subject subject) {
    Optional<PointsAsked> planned = planned(file, history);
    PointsAsked usual = planned.orElseGet(() -> PointsAsked.usual(subject.shape()));
    String where = at == null ? usual.words() : at;
    String figure = counts == null ? at == null ? usual.counts().words() : "" : counts;
    return understood(() -> PointsAsked.read(where, figure));
  }

  private Optional<PointsAsked> planned(Path file, MagnetHistory history) {
    List<LedgerEvent> begun = new ArrayList<>();
    long batch = history.identity().batch();
    try (LedgerArchive archive = desk.program().archive(file)) {
      archive.forEach(batch, batch, stored -> begun.add(EventCodec.decode(stored).event()));
    }
    return begun.stream()
        .filter(LedgerEvent.BatchStarted.class::isInstance)
        .map(event -> ((LedgerEvent.BatchStarted) event).planText())
        .flatMap(text -> PointsAsked.planned(text, history.identity().row()).stream())
        .findFirst();
  }

  /** What is on record of a series. */
  private record Read(List<PointRead> points, PointsJudged judged) {}

  private Read ofSeries(Path file, long series, long number) {
    List<PointRead> points = new ArrayList<>();
    List<PointsJudged> judged = new ArrayList<>();
    try (LedgerArchive archive = desk.program().archive(file)) {
      MagnetHistory history = MagnetHistory.of(archive, number).orElseThrow();
      for (MagnetHistory.Happening happening : history.happenings()) {
        if (happening.what() instanceof MagnetHistory.What.AtPoints at) {
          if (at.event() instanceof PointRead read && read.series() == series) {
            points.add(read);
          } else if (at.event() instanceof PointsJudged end && end.series() == series) {
            judged.add(end);
          }
        }
      }
    }
    return new Read(points, judged.get(0));
  }

  private int told(PointSeries series, Read read) {
    PointsJudged judged = read.judged();
    boolean held = judged.toleranceMicroTesla() > 0;
    if (json) {
      ObjectNode node = Json.object();
      node.put("magnet", judged.magnet());
      node.put("name", series.subject().name());
      node.put("nest", series.nest().name());
      ArrayNode points = node.putArray("points");
      read.points().forEach(point -> points.add(Json.ofRecord(point)));
      node.set("judged", Json.ofRecord(judged));
      desk.print(node);
    } else {
      List<String> lines = new ArrayList<>();
      lines.add("");
      lines.addAll(table(series, read.points()).lines());
      lines.add("");
      lines.add(
          said(
              "From the weakest to the strongest point: %.1f G.",
              (judged.mostMicroTesla() - judged.leastMicroTesla()) * 1e-2));
      lines.add("Of " + series.subject().name() + " " + judged.why() + ".");
      desk.print(lines);
    }
    return !held || judged.inside() ? Desk.DONE : Desk.NOT_ACCEPTED;
  }

  /** A row a point: both faces beside one another, and what is between them without their signs. */
  private static Table table(PointSeries series, List<PointRead> points) {
    boolean both = series.asked().bothFaces();
    Map<String, PointRead> strings = new LinkedHashMap<>();
    Map<String, PointRead> other = new LinkedHashMap<>();
    points.forEach(
        read ->
            (read.face().equals(PointSeries.STRINGS) ? strings : other).put(read.point(), read));
    List<Table.Column> columns =
        new ArrayList<>(
            List.of(
                Table.Column.ofWords("point"),
                Table.Column.ofNumbers("from the middle"),
                Table.Column.ofNumbers("strings face")));
    if (both) {
      columns.add(Table.Column.ofNumbers("other face"));
      columns.add(Table.Column.ofNumbers("other weaker by"));
    }
    List<List<String>> rows = new ArrayList<>();
    strings.forEach(
        (point, read) -> {
          List<String> row = new ArrayList<>();
          row.add(point);
          row.add(Length.ofMicroMetres(read.alongMicroMetres()).written());
          row.add(FluxDensity.ofMicroTesla(read.fieldMicroTesla()).inGauss());
          PointRead opposite = other.get(point);
          if (opposite != null) {
            row.add(FluxDensity.ofMicroTesla(opposite.fieldMicroTesla()).inGauss());
            long weaker = Math.abs(read.fieldMicroTesla()) - Math.abs(opposite.fieldMicroTesla());
            row.add(FluxDensity.ofMicroTesla(weaker).inGauss());
          }
          rows.add(row);
        });
    return new Table(columns, rows);
  }
}
