package lodestep.voice;

import static lodestep.voice.PullTable.said;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lodestep.port.Plot;
import lodestep.quantity.FluxDensity;
import lodestep.voice.Told.Passage;

/**
 * What a magnet's level does to the strings above it. Any thread, immutable.
 *
 * @param pickup as it was described
 * @param levels that are asked about
 * @param frets at which pitch is told: those that leave the pole under what vibrates
 * @param rows each string at that level
 * @param swept the string that is out of tune by most
 * @param sweep what becomes of it as the level falls
 */
public record StringsAnswer(
    VoicedPickup pickup,
    Levels levels,
    List<Integer> frets,
    List<Row> rows,
    String swept,
    List<Step> sweep) {

  /** The frets at which pitch is told, where the pole is clear of them. */
  private static final List<Integer> FRETS = List.of(0, 5, 12, 17, 19);

  /** An open string and its octave; the highest that lies clear is told with them. */
  private static final List<Integer> SWEPT = List.of(0, 12);

  private static final List<Double> PARTS = List.of(1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2);

  public StringsAnswer {
    frets = List.copyOf(frets);
    rows = List.copyOf(rows);
    sweep = List.copyOf(sweep);
  }

  /**
   * A string with what the pickup does to it at the level asked for.
   *
   * @param pulls stopped at each of {@link #frets}, the open string first
   */
  public record Row(StringSet.Tuned tuned, List<StringPull> pulls) {
    public Row {
      pulls = List.copyOf(pulls);
    }

    /** On the open string. */
    public StringPull pull() {
      return pulls.get(0);
    }
  }

  /**
   * One level of the sweep.
   *
   * @param along the string stopped at each of the answer's frets, the open one first
   * @param decibels of the signal beside the full charge
   */
  public record Step(FluxDensity level, List<StringPull> along, double decibels) {
    public Step {
      along = List.copyOf(along);
    }

    /** On the open string. */
    public StringPull pull() {
      return along.get(0);
    }
  }

  /**
   * One quantity as the level is swept.
   *
   * @param name of a file that is drawn of it
   */
  public record Swept(String name, Plot plot) {}

  /**
   * Works it out; a second or so.
   *
   * @throws IllegalArgumentException with one sentence, where the range ends
   */
  public static StringsAnswer of(VoicedPickup pickup, FluxDensity dialed) {
    return of(pickup, Levels.alike(dialed, pickup.set().tuned().size()));
  }

  /** The same where each magnet has a level of its own. */
  public static StringsAnswer of(VoicedPickup pickup, Levels levels) {
    List<Integer> clear = clear(pickup);
    int[] frets = clear.stream().mapToInt(fret -> fret).toArray();
    List<Row> rows = new ArrayList<>();
    for (int at = 0; at < pickup.set().tuned().size(); at++) {
      StringSet.Tuned tuned = pickup.set().tuned().get(at);
      rows.add(new Row(tuned, pulls(pickup, at, levels, frets)));
    }
    int most = pickup.most();
    StringPull full = pickup.open(most, pickup.full());
    List<Step> sweep = new ArrayList<>();
    for (double part : PARTS) {
      FluxDensity level = pickup.field().level().part(part);
      List<StringPull> along = pulls(pickup, most, Levels.alike(level, rows.size()), frets);
      sweep.add(new Step(level, along, along.get(0).decibelsBeside(full)));
    }
    String swept = pickup.set().tuned().get(most).note();
    return new StringsAnswer(pickup, levels, clear, rows, swept, sweep);
  }

  /** Frets that leave the pole, with as much again beyond it as it is high, under every string. */
  private static List<Integer> clear(VoicedPickup pickup) {
    double reach = pickup.fromBridge().metres() + pickup.distance().metres();
    double scale =
        pickup.set().tuned().stream()
            .mapToDouble(each -> each.string().scale().metres())
            .min()
            .orElse(0);
    return FRETS.stream()
        .filter(fret -> fret == 0 || canBe(scale * Math.pow(2, -fret / 12.0), reach))
        .toList();
  }

  private static boolean canBe(double metres, double reach) {
    return metres > reach && metres * 1e3 >= SteelString.SCALE_MIN_MM;
  }

  private static List<StringPull> pulls(
      VoicedPickup pickup, int string, Levels levels, int[] frets) {
    SteelString tuned = pickup.set().tuned().get(string).string();
    return pickup
        .field()
        .pulls(string, levels, pickup.distance(), tuned, pickup.fromBridge(), frets);
  }

  /** The level; the mean of several. */
  public FluxDensity dialed() {
    return levels.mean();
  }

  /** The level as part of the full charge. */
  public double part() {
    return dialed().tesla() / pickup.full().tesla();
  }

  /** The answer in words. */
  public Told told() {
    List<Passage> passages = new ArrayList<>();
    passages.add(new Passage.Heading(pickup.kind().toString()));
    passages.add(
        new Passage.Sentence(
            said(
                levels.areAlike()
                    ? "Level %s, %.0f %% of its full charge; strings %s above the pole."
                    : "Levels %s, the lowest string first, %.0f %% of a full charge on average;"
                        + " strings %s above the pole.",
                levels.words(pickup.set()),
                100 * part(),
                pickup.distance().written())));
    passages.add(table());
    passages.add(along());
    if (frets.size() < FRETS.size()) {
      passages.add(new Passage.Sentence(leftOut()));
    }
    passages.add(falling());
    passages.add(new Passage.Sentence(pickup.field().range(levels)));
    // With a coil, what the level does alone is told together with it.
    String alone = pickup.coil().henry().isPresent() ? "" : LevelHeard.ofLevel(part()) + "; ";
    passages.add(Passage.Custom.of(alone + LevelHeard.levels(pickup.full())));
    passages.addAll(pickup.coil().passages(part()));
    return new Told(passages, plots().stream().map(Swept::plot).toList());
  }

  private Passage table() {
    List<List<String>> cells = new ArrayList<>();
    for (int at = 0; at < rows.size(); at++) {
      Row row = rows.get(at);
      List<String> each = new ArrayList<>(List.of(row.tuned().note()));
      if (!levels.areAlike()) {
        each.add(levels.at(at).inGauss());
      }
      each.add(said("%.0f N", row.tuned().string().tensionNewtons()));
      each.addAll(PullTable.cells(row.pull()));
      cells.add(each);
    }
    List<String> columns =
        new ArrayList<>(
            levels.areAlike()
                ? List.of("string", "tension")
                : List.of("string", "level", "tension"));
    columns.addAll(PullTable.COLUMNS);
    return new Passage.Rows(
        levels.areAlike()
            ? "Each open string at this level:"
            : "Each open string at its own level:",
        true,
        columns,
        1,
        cells);
  }

  private Passage along() {
    List<String> columns = new ArrayList<>(List.of("string"));
    frets.forEach(fret -> columns.add(fret == 0 ? "open" : String.valueOf(fret)));
    List<List<String>> cells = new ArrayList<>();
    for (Row row : rows) {
      List<String> each = new ArrayList<>(List.of(row.tuned().note()));
      row.pulls().forEach(pull -> each.add(PullTable.signed(pull.cents())));
      cells.add(each);
    }
    return new Passage.Rows(
        "Out of tune along the neck, in cents, by the fret:", true, columns, 1, cells);
  }

  private String leftOut() {
    String left =
        FRETS.stream()
            .filter(fret -> !frets.contains(fret))
            .map(String::valueOf)
            .collect(Collectors.joining(", "));
    return said(
        "Left out: stopped at fret %s the string is too short to swing over a pole %s from the"
            + " bridge.",
        left, pickup.fromBridge().written());
  }

  private Passage falling() {
    List<List<String>> cells = new ArrayList<>();
    for (Step step : sweep) {
      List<String> each = new ArrayList<>(List.of(step.level().inGauss()));
      each.add(said("%.0f %%", 100 * step.level().tesla() / pickup.full().tesla()));
      each.addAll(PullTable.cells(step.pull()));
      each.add(PullTable.decibels(step.decibels()));
      cells.add(each);
    }
    List<String> columns = new ArrayList<>(List.of("level", "of full"));
    columns.addAll(PullTable.COLUMNS);
    columns.add("signal");
    return new Passage.Rows(
        "The string that is pulled most, "
            + swept
            + (levels.areAlike() ? ", as the level falls:" : ", as the level of all falls:"),
        true,
        columns,
        0,
        cells);
  }

  /** Each quantity as the level is swept; pitch also along the neck. */
  public List<Swept> plots() {
    return List.of(
        swept("cents", "out of tune, cents", step -> step.pull().cents()),
        swept("field", "field at the string, G", step -> step.pull().fieldTesla() * 1e4),
        swept("gradient", "gradient, G/mm", step -> step.pull().gradientTeslaPerMetre() * 10),
        swept("pull", "pull, mN", step -> step.pull().pullNewtons() * 1e3),
        swept("beats", "beats, Hz", step -> step.pull().splittingHertz()),
        swept("signal", "signal beside full, dB", Step::decibels),
        new Swept("neck", plot("out of tune along the neck, cents", alongTheNeck())));
  }

  /** Open, at the octave, and at the highest fret that lies clear. */
  private List<Plot.Curve> alongTheNeck() {
    List<Plot.Curve> curves = new ArrayList<>();
    for (int at = 0; at < frets.size(); at++) {
      int fret = frets.get(at);
      int stopped = at;
      if (SWEPT.contains(fret) || at == frets.size() - 1) {
        String name = fret == 0 ? "open string" : "fret " + fret;
        curves.add(curve(name, step -> step.along().get(stopped).cents()));
      }
    }
    return curves;
  }

  private Swept swept(String name, String up, ToDoubleFunction<Step> value) {
    return new Swept(name, plot(up, List.of(curve("open string", value))));
  }

  private Plot plot(String up, List<Plot.Curve> curves) {
    return new Plot("String " + swept + " over " + pickup.kind(), "level, G", up, curves);
  }

  private Plot.Curve curve(String name, ToDoubleFunction<Step> value) {
    List<Step> rising =
        IntStream.range(0, sweep.size()).mapToObj(at -> sweep.get(sweep.size() - 1 - at)).toList();
    return new Plot.Curve(
        name,
        rising.stream().map(step -> step.level().tesla() * 1e4).toList(),
        rising.stream().map(step -> value.applyAsDouble(step)).toList());
  }
}
