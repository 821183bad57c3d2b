package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.DoubleStream;
import lodestep.port.Plot;
import lodestep.quantity.Capacitance;
import lodestep.quantity.Inductance;
import lodestep.quantity.Resistance;
import lodestep.voice.CoilCircuit;
import lodestep.voice.LevelHeard;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.Option;

/** What a level and a coil mean to the ear: reckoned, and custom marked as such. */
final class VoiceCommands {

  static final String CUSTOM = "Custom (common practice, no source; nothing of it is reckoned): ";

  private VoiceCommands() {}

  /** The group itself, which only says what there is. */
  @Command(
      name = "voice",
      description = "What a level means to the strings, and where a coil rings; nothing is driven.",
      subcommands = HelpCommand.class)
  static final class OfVoice extends Group {
    OfVoice(Desk desk) {
      super(desk);
    }
  }

  @Command(
      name = "coil",
      description = "Where a pickup's coil with its cable and load rings, and how high.",
      footer = {
        "",
        "Losses in metal parts are left out: a real peak is lower.",
        "",
        "Example: lodestep voice coil --inductance \"3.4 H\" --resistance \"6.9 kohm\"",
        "             --capacitance \"640 pF\" --load \"210 kohm\""
      })
  static final class OfCoil extends Asked {

    private static final double[] NOTES = {
      100, 500, 1_000, 1_500, 2_000, 3_000, 4_000, 6_000, 9_000
    };
    private static final int STEPS = 120;
    private static final double FROM_HERTZ = 100;
    private static final double DECADES = 2.1;

    private final Desk desk;

    @Option(
        names = "--inductance",
        paramLabel = "INDUCTANCE",
        required = true,
        description = "of the coil: \"3.4 H\"")
    private String inductance = "";

    @Option(
        names = "--resistance",
        paramLabel = "RESISTANCE",
        required = true,
        description = "of the coil: \"6.9 kohm\"")
    private String resistance = "";

    @Option(
        names = "--capacitance",
        paramLabel = "CAPACITANCE",
        required = true,
        description = "of coil and cable together: \"640 pF\"")
    private String capacitance = "";

    @Option(
        names = "--load",
        paramLabel = "RESISTANCE",
        required = true,
        description = "potentiometers and amplifier together: \"210 kohm\"")
    private String load = "";

    @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
    private @Nullable Path file;

    @Option(names = "--json", description = "as JSON, in SI units")
    private boolean json;

    OfCoil(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      CoilCircuit coil = coil();
      Plot plot = plot(coil);
      MagnetCommands.drawn(desk, plot, file);
      if (json) {
        desk.print(document(coil));
        return Desk.DONE;
      }
      List<String> lines = new ArrayList<>(List.of(plot.title(), ""));
      lines.addAll(TerminalPlot.lines(plot));
      lines.add("");
      double peak = coil.peakHertz();
      lines.add(
          peak > 0
              ? said("Peak of %+.1f dB at %.0f Hz; ", coil.decibels(peak), peak)
                  + said("without any loss it would ring at %.0f Hz.", coil.resonanceHertz())
              : "No peak: this load damps it from the lowest notes on.");
      lines.add("");
      lines.addAll(table(coil).lines());
      lines.add("");
      lines.addAll(
          Wrapped.lines(
              "", CUSTOM + LevelHeard.ofInductance(coil.henry()) + ".", MagnetCommands.COLUMNS));
      desk.print(lines);
      return Desk.DONE;
    }

    private CoilCircuit coil() {
      double henry = KindOptions.said("--inductance", () -> Inductance.parse(inductance)).henries();
      double ohms = KindOptions.said("--resistance", () -> Resistance.parse(resistance)).ohms();
      double farad =
          KindOptions.said("--capacitance", () -> Capacitance.parse(capacitance)).farads();
      double loadOhms = KindOptions.said("--load", () -> Resistance.parse(load)).ohms();
      return GaugeCommands.understood(() -> new CoilCircuit(henry, ohms, farad, loadOhms));
    }

    private static Plot plot(CoilCircuit coil) {
      List<Double> hertz =
          DoubleStream.iterate(0, step -> step + 1)
              .limit(STEPS + 1L)
              .map(step -> FROM_HERTZ * Math.pow(10, DECADES * step / STEPS))
              .boxed()
              .toList();
      return new Plot(
          said("Coil of %.2f H and %.0f ohm with its cable and load", coil.henry(), coil.ohms()),
          "decades above 100 Hz",
          "beside low notes, dB",
          List.of(
              new Plot.Curve(
                  "coil",
                  hertz.stream().map(each -> Math.log10(each / FROM_HERTZ)).toList(),
                  hertz.stream().map(coil::decibels).toList())));
    }

    private static Table table(CoilCircuit coil) {
      List<List<String>> rows = new ArrayList<>();
      for (double hertz : NOTES) {
        rows.add(List.of(said("%.0f Hz", hertz), said("%+.1f dB", coil.decibels(hertz))));
      }
      return new Table(
          List.of(Table.Column.ofNumbers("note"), Table.Column.ofNumbers("beside low notes")),
          rows);
    }

    private static ObjectNode document(CoilCircuit coil) {
      ObjectNode node = Json.object();
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
}
