package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import lodestep.port.Plot;
import lodestep.quantity.Capacitance;
import lodestep.quantity.Inductance;
import lodestep.quantity.Resistance;
import lodestep.voice.CoilCircuit;
import lodestep.voice.LevelHeard;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Where a pickup's coil rings, with its cable and load. */
@Command(
    name = "coil",
    description = "Where a pickup's coil with its cable and load rings, and how high.",
    footer = {
      "",
      "Losses in metal parts are left out: a real peak is lower. Without an inductance",
      "it is reckoned from the turns; what is still missing is said, and the answer is",
      "given for what it may be.",
      "",
      "Examples: lodestep voice coil --inductance \"3.4 H\" --resistance \"6.9 kohm\"",
      "              --capacitance \"640 pF\" --load \"210 kohm\"",
      "          lodestep voice coil --turns 7600 --winding \"11 x 3.6 mm\"",
      "              --cores \"4.6 x 15.5 mm\" --cores-of \"alnico 3\"",
      "              --resistance \"6.9 kohm\" --capacitance \"640 pF\" --load \"210 kohm\""
    })
final class CoilVoiceCommand extends Asked {

  private static final double[] NOTES = {100, 500, 1_000, 1_500, 2_000, 3_000, 4_000, 6_000, 9_000};
  private static final int STEPS = 120;
  private static final double FROM_HERTZ = 100;
  private static final double DECADES = 2.1;

  /** What pickups have, in henries; common practice, no source. */
  private static final double[] MAY_BE_HENRIES = {2, 3, 4, 6, 8};

  /** Coil with a short and a long cable; common practice, no source. */
  private static final double[] MAY_BE_FARADS = {300e-12, 500e-12, 700e-12, 1000e-12};

  private final Desk desk;

  @Option(names = "--inductance", paramLabel = "INDUCTANCE", description = "of the coil: \"3.4 H\"")
  private @Nullable String inductance;

  @Mixin private AskedTurns turns = new AskedTurns();

  @Option(
      names = "--resistance",
      paramLabel = "RESISTANCE",
      required = true,
      description = "of the coil: \"6.9 kohm\"")
  private String resistance = "";

  @Option(
      names = "--capacitance",
      paramLabel = "CAPACITANCE",
      description = "of coil and cable together: \"640 pF\"")
  private @Nullable String capacitance;

  @Option(
      names = "--load",
      paramLabel = "RESISTANCE",
      required = true,
      description = "potentiometers and amplifier together: \"210 kohm\"")
  private String load = "";

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml, for the lots that --cores-of may name")
  private @Nullable Path rigFile;

  @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  CoilVoiceCommand(Desk desk) {
    this.desk = desk;
  }

  /** The inductance, said or reckoned, and how it was come by; empty where nothing says it. */
  private record Inductive(Optional<Double> henry, List<String> how) {}

  @Override
  public Integer call() {
    Inductive inductive = inductive();
    Optional<Double> farad =
        Optional.ofNullable(capacitance)
            .map(text -> KindOptions.said("--capacitance", () -> Capacitance.parse(text)).farads());
    if (inductive.henry().isEmpty() && farad.isEmpty()) {
      throw new Refusal(
          "inductance and capacitance are both missing, and it rings by the two: say one of them at"
              + " least, --inductance (or --turns with --winding), or --capacitance");
    }
    List<CoilCircuit> coils = coils(inductive.henry(), farad);
    Plot plot = plot(coils);
    MagnetCommands.drawn(desk, plot, file);
    String missing =
        inductive.henry().isEmpty() ? "inductance" : farad.isEmpty() ? "capacitance" : "";
    if (json) {
      desk.print(document(coils, missing));
    } else if (missing.isEmpty()) {
      desk.print(words(plot, coils.get(0), inductive));
    } else {
      desk.print(inPart(coils, missing, inductive));
    }
    return Desk.DONE;
  }

  private Inductive inductive() {
    String written = inductance;
    if (written != null) {
      double henry = KindOptions.said("--inductance", () -> Inductance.parse(written)).henries();
      return new Inductive(Optional.of(henry), List.of());
    }
    return turns
        .coil(desk.program().rig(Optional.ofNullable(rigFile)))
        .map(
            coil ->
                new Inductive(
                    Optional.of(coil.henries()),
                    Wrapped.lines(
                        "",
                        said(
                            "Inductance reckoned from the turns: %.2f H with its cores, %.2f H"
                                + " in air; good to about a fifth, for low notes, with no steel"
                                + " beside the winding. A measured one is better.",
                            coil.henries(), coil.airHenries()),
                        MagnetCommands.COLUMNS)))
        .orElseGet(() -> new Inductive(Optional.empty(), turns.missing()));
  }

  /** The one coil, or one for each value that what is missing may have. */
  private List<CoilCircuit> coils(Optional<Double> henry, Optional<Double> farad) {
    double ohms = KindOptions.said("--resistance", () -> Resistance.parse(resistance)).ohms();
    double loadOhms = KindOptions.said("--load", () -> Resistance.parse(load)).ohms();
    double[] henries = henry.map(one -> new double[] {one}).orElse(MAY_BE_HENRIES);
    double[] farads = farad.map(one -> new double[] {one}).orElse(MAY_BE_FARADS);
    return GaugeCommands.understood(
        () -> {
          List<CoilCircuit> coils = new ArrayList<>();
          for (double l : henries) {
            for (double c : farads) {
              coils.add(new CoilCircuit(l, ohms, c, loadOhms));
            }
          }
          return coils;
        });
  }

  private static List<String> words(Plot plot, CoilCircuit coil, Inductive inductive) {
    List<String> lines = new ArrayList<>(List.of(plot.title(), ""));
    lines.addAll(TerminalPlot.lines(plot));
    lines.add("");
    lines.add(peak(coil));
    lines.addAll(inductive.how());
    lines.add("");
    lines.addAll(table(coil).lines());
    lines.add("");
    lines.addAll(
        Wrapped.lines(
            "",
            VoiceCommands.CUSTOM + LevelHeard.ofInductance(coil.henry()) + ".",
            MagnetCommands.COLUMNS));
    return lines;
  }

  private static String peak(CoilCircuit coil) {
    double peak = coil.peakHertz();
    return peak > 0
        ? said(
            "Peak of %+.1f dB at %.0f Hz; without any loss it would ring at %.0f Hz.",
            coil.decibels(peak), peak, coil.resonanceHertz())
        : "No peak: this load damps it from the lowest notes on.";
  }

  private static List<String> inPart(List<CoilCircuit> coils, String missing, Inductive inductive) {
    List<String> lines =
        new ArrayList<>(List.of("The " + missing + " is missing; for what it may be:", ""));
    List<List<String>> rows = new ArrayList<>();
    for (CoilCircuit coil : coils) {
      double peak = coil.peakHertz();
      rows.add(
          List.of(
              named(coil, missing),
              peak > 0 ? said("%.0f Hz", peak) : "none",
              peak > 0 ? said("%+.1f dB", coil.decibels(peak)) : ""));
    }
    lines.addAll(
        new Table(
                List.of(
                    Table.Column.ofNumbers(missing),
                    Table.Column.ofNumbers("peak at"),
                    Table.Column.ofNumbers("of")),
                rows)
            .lines());
    lines.add("");
    lines.addAll(inductive.how());
    return lines;
  }

  private static String named(CoilCircuit coil, String varied) {
    return varied.equals("capacitance")
        ? said("%.0f pF", coil.farad() * 1e12)
        : said("%.2f H", coil.henry());
  }

  private static Plot plot(List<CoilCircuit> coils) {
    List<Double> hertz =
        DoubleStream.iterate(0, step -> step + 1)
            .limit(STEPS + 1L)
            .map(step -> FROM_HERTZ * Math.pow(10, DECADES * step / STEPS))
            .boxed()
            .toList();
    List<Double> decades = hertz.stream().map(each -> Math.log10(each / FROM_HERTZ)).toList();
    CoilCircuit first = coils.get(0);
    return new Plot(
        coils.size() == 1
            ? said(
                "Coil of %.2f H and %.0f ohm with its cable and load", first.henry(), first.ohms())
            : said("Coil of %.0f ohm with its cable and load", first.ohms()),
        "decades above 100 Hz",
        "beside low notes, dB",
        coils.stream()
            .map(
                coil ->
                    new Plot.Curve(
                        coils.size() == 1
                            ? "coil"
                            : said("%.2f H, %.0f pF", coil.henry(), coil.farad() * 1e12),
                        decades,
                        hertz.stream().map(coil::decibels).collect(Collectors.toList())))
            .toList());
  }

  private static Table table(CoilCircuit coil) {
    List<List<String>> rows = new ArrayList<>();
    for (double hertz : NOTES) {
      rows.add(List.of(said("%.0f Hz", hertz), said("%+.1f dB", coil.decibels(hertz))));
    }
    return new Table(
        List.of(Table.Column.ofNumbers("note"), Table.Column.ofNumbers("beside low notes")), rows);
  }

  private static ObjectNode document(List<CoilCircuit> coils, String missing) {
    ObjectNode node = Json.object();
    if (!missing.isEmpty()) {
      node.put("missing", missing);
      ArrayNode all = node.putArray("mayBe");
      coils.forEach(coil -> all.add(document(coil, Json.object())));
      return node;
    }
    return document(coils.get(0), node);
  }

  private static ObjectNode document(CoilCircuit coil, ObjectNode node) {
    node.put("inductanceHenries", coil.henry());
    node.put("capacitanceFarads", coil.farad());
    node.put("resonanceHertz", coil.resonanceHertz());
    node.put("peakHertz", coil.peakHertz());
    node.put("peakDecibels", coil.peakHertz() > 0 ? coil.decibels(coil.peakHertz()) : 0);
    ArrayNode points = node.putArray("points");
    for (double hertz : NOTES) {
      ObjectNode point = points.addObject();
      point.put("hertz", hertz);
      point.put("decibels", coil.decibels(hertz));
    }
    return node;
  }
}
