package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Figure;
import lodestep.magnet.Keeping;
import lodestep.magnet.SlowRelaxation;
import lodestep.port.Plot;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** What levels a magnet can hold, and how well. */
final class LevelCommands {

  private static final double YEAR_SECONDS = 365.25 * 86_400;

  /** A level is known when its reading has settled. */
  private static final double SETTLED_SECONDS = 10;

  private static final double[] PARTS = {1, 0.95, 0.9, 0.85, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2};

  /** Of the curves that are drawn, from seven tenths of a full charge: below, little is taken. */
  private static final int STEPS = 200;

  /** From a full charge to a hundredth of a gauss. */
  private static final int HALVINGS = 18;

  private LevelCommands() {}

  /** What may befall a magnet. Filled by the command line. */
  static final class Befalls {

    @Option(
        names = "--opposing",
        paramLabel = "FIELD",
        defaultValue = "5 kA/m",
        description = "a stray field against it; 5 kA/m if left out")
    private String opposing = "";

    @Option(
        names = "--swing",
        paramLabel = "KELVIN",
        defaultValue = "30",
        description = "warmer or colder by this; 30 if left out")
    private double kelvin;

    @Option(
        names = "--years",
        paramLabel = "YEARS",
        defaultValue = "10",
        description = "how long it is to keep; 10 if left out")
    private double years;

    FieldStrength opposing() {
      FieldStrength field = KindOptions.said("--opposing", () -> FieldStrength.parse(opposing));
      if (field.amperesPerMetre() < 0) {
        throw new Refusal("--opposing: it is written without a sign, as it is against the magnet");
      }
      return field;
    }

    /** No bench is further from a magnet's working point than this. */
    private static final double KELVIN_MAX = 300;

    /** Refuses a swing that is none, also where it is not looked at. */
    void require() {
      // Negated comparison on purpose: it also rejects NaN.
      if (!(Math.abs(kelvin) <= KELVIN_MAX)) {
        throw new Refusal(
            MagnetCommands.said("--swing: it is 0 to %.0f K, not %s", KELVIN_MAX, kelvin));
      }
    }

    FieldStrength ageing() {
      return KindOptions.said(
          "--years", () -> SlowRelaxation.actsAs(SETTLED_SECONDS, years * YEAR_SECONDS));
    }

    /** What the swing acts as; empty if a coefficient is not known of the alloy. */
    Optional<FieldStrength> swing(FaceModel kind, Keeping keeping, FluxDensity level) {
      if (kind.alloy().known(Figure.COERCIVITY_PER_KELVIN).isEmpty()) {
        return Optional.empty();
      }
      return Optional.of(KindOptions.said("--swing", () -> keeping.ofTemperature(level, kelvin)));
    }
  }

  @Command(
      name = "levels",
      description =
          "What levels a magnet can hold, and what a stray field, a swing of temperature and time"
              + " take of each.",
      footer = {
        "",
        "Example: lodestep magnet levels --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\""
      })
  static final class OfLevels extends Asked {

    private final Desk desk;
    @Mixin private KindOptions asked = new KindOptions();
    @Mixin private Befalls befalls = new Befalls();

    @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
    private @Nullable Path file;

    @Option(names = "--json", description = "as JSON, in SI units")
    private boolean json;

    OfLevels(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      befalls.require();
      RigConfig rig = asked.rig(desk);
      FaceModel kind = asked.kind(rig);
      Length standOff = asked.standOff(rig, kind);
      Keeping keeping = Keeping.of(kind, standOff);
      List<FluxDensity> levels =
          Arrays.stream(PARTS)
              .mapToObj(part -> new FluxDensity(part * keeping.full().tesla()))
              .toList();
      Plot plot = plot(kind, keeping);
      MagnetCommands.drawn(desk, plot, file);
      if (json) {
        ObjectNode node = JsonMagnet.ofKind(kind, standOff);
        node.put("untouchedByOpposingTesla", keeping.levelAfter(befalls.opposing()).tesla());
        ArrayNode rows = node.putArray("levels");
        levels.forEach(level -> row(rows.addObject(), kind, keeping, level));
        desk.print(node);
        return Desk.DONE;
      }
      List<String> lines =
          new ArrayList<>(List.of(kind + ", read " + standOff.written() + " off its face", ""));
      lines.addAll(TerminalPlot.lines(plot));
      lines.add("");
      lines.addAll(table(kind, keeping, levels).lines());
      lines.add("");
      lines.addAll(Wrapped.lines("", safe(kind, keeping), MagnetCommands.COLUMNS));
      if (kind.alloy().known(Figure.COERCIVITY_PER_KELVIN).isEmpty()) {
        lines.addAll(
            Wrapped.lines(
                "",
                "How the coercivity of "
                    + kind.alloy().name()
                    + " follows temperature is not known, so nothing is said of a swing.",
                MagnetCommands.COLUMNS));
      }
      lines.addAll(MagnetCommands.range(kind));
      desk.print(lines);
      return Desk.DONE;
    }

    /** What each takes, by the level; a swing only where it is known of the alloy. */
    private Plot plot(FaceModel kind, Keeping keeping) {
      double full = keeping.full().tesla();
      List<FluxDensity> levels =
          IntStream.rangeClosed(7 * STEPS / 10, STEPS)
              .mapToObj(step -> new FluxDensity(full * step / STEPS))
              .toList();
      List<Plot.Curve> curves = new ArrayList<>();
      curves.add(taken("opposing", keeping, levels, level -> befalls.opposing()));
      if (levels.stream().allMatch(level -> befalls.swing(kind, keeping, level).isPresent())) {
        curves.add(
            taken(
                "swing",
                keeping,
                levels,
                level -> befalls.swing(kind, keeping, level).orElseThrow()));
      }
      curves.add(taken("years", keeping, levels, level -> befalls.ageing()));
      return new Plot("What is taken of a level of " + kind, "level, G", "taken, G", curves);
    }

    private static Plot.Curve taken(
        String name,
        Keeping keeping,
        List<FluxDensity> levels,
        Function<FluxDensity, FieldStrength> acts) {
      return new Plot.Curve(
          name,
          levels.stream().map(FluxDensity::gauss).toList(),
          levels.stream().map(level -> keeping.lossTo(level, acts.apply(level)).gauss()).toList());
    }

    private void row(ObjectNode row, FaceModel kind, Keeping keeping, FluxDensity level) {
      row.put("levelTesla", level.tesla());
      row.put("peakAmperesPerMetre", keeping.peakFor(level).amperesPerMetre());
      row.put("lossToOpposingTesla", keeping.lossTo(level, befalls.opposing()).tesla());
      befalls
          .swing(kind, keeping, level)
          .ifPresent(swing -> row.put("lossToSwingTesla", keeping.lossTo(level, swing).tesla()));
      row.put("lossToTimeTesla", keeping.lossTo(level, befalls.ageing()).tesla());
    }

    private Table table(FaceModel kind, Keeping keeping, List<FluxDensity> levels) {
      return new Table(
          Stream.of(
                  "of full",
                  "level",
                  "knocked down by",
                  "opposing takes",
                  "swing takes",
                  "years take")
              .map(Table.Column::ofNumbers)
              .toList(),
          levels.stream()
              .map(
                  level ->
                      List.of(
                          MagnetCommands.said(
                              "%.0f %%", 100 * level.tesla() / keeping.full().tesla()),
                          level.inGauss(),
                          keeping.peakFor(level).written(),
                          keeping.lossTo(level, befalls.opposing()).inGauss(),
                          befalls
                              .swing(kind, keeping, level)
                              .map(swing -> keeping.lossTo(level, swing).inGauss())
                              .orElse("not known"),
                          keeping.lossTo(level, befalls.ageing()).inGauss()))
              .toList());
    }

    private String safe(FaceModel kind, Keeping keeping) {
      FieldStrength opposing = befalls.opposing();
      FieldStrength ageing = befalls.ageing();
      String alone =
          MagnetCommands.said(
              "A level of %s or less is left alone by an opposing field of %s, as a knock-down that"
                  + " deep has already taken what it could take; %s or less by the years; ",
              keeping.levelAfter(opposing).inGauss(),
              opposing.written(),
              keeping.levelAfter(ageing).inGauss());
      String swing =
          safe(keeping, level -> befalls.swing(kind, keeping, level))
              .map(level -> level.inGauss() + " or less by the swing; ")
              .orElse("");
      FluxDensity all =
          safe(keeping, level -> Optional.of(together(kind, keeping, level)))
              .orElse(new FluxDensity(0));
      return alone
          + swing
          + all.inGauss()
          + " or less by all of them at once. What the years take rests on one published bound,"
          + " under 3 per cent in 100,000 hours, and not on this alloy; what comes and goes with"
          + " temperature is left out.";
    }

    private FieldStrength together(FaceModel kind, Keeping keeping, FluxDensity level) {
      double swing =
          befalls.swing(kind, keeping, level).map(FieldStrength::amperesPerMetre).orElse(0.0);
      return new FieldStrength(
          befalls.opposing().amperesPerMetre() + befalls.ageing().amperesPerMetre() + swing);
    }

    /** The highest level whose own knock-down was as strong as this; by halving. */
    private static Optional<FluxDensity> safe(
        Keeping keeping, Function<FluxDensity, Optional<FieldStrength>> acts) {
      double safe = 0;
      double unsafe = keeping.full().tesla();
      for (int halving = 0; halving < HALVINGS; halving++) {
        FluxDensity level = new FluxDensity(0.5 * (safe + unsafe));
        Optional<FieldStrength> field = acts.apply(level);
        if (field.isEmpty()) {
          return Optional.empty();
        }
        boolean kept = keeping.peakFor(level).compareTo(field.get()) >= 0;
        safe = kept ? level.tesla() : safe;
        unsafe = kept ? unsafe : level.tesla();
      }
      return Optional.of(new FluxDensity(safe));
    }
  }
}
