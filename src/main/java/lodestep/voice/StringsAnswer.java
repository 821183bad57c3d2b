package lodestep.voice;

import static lodestep.voice.PullTable.said;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import lodestep.port.Plot;
import lodestep.quantity.FluxDensity;
import lodestep.voice.Told.Passage;

/**
 * What a magnet's level does to the strings above it. Any thread, immutable.
 *
 * @param pickup as it was described
 * @param dialed the level asked about
 * @param rows each string at that level
 * @param swept the string that is out of tune by most
 * @param sweep what becomes of it as the level falls
 */
public record StringsAnswer(
    VoicedPickup pickup, FluxDensity dialed, List<Row> rows, String swept, List<Step> sweep) {

  /** The frets at which pitch is told. */
  public static final List<Integer> FRETS = List.of(0, 5, 12, 17);

  private static final List<Double> PARTS = List.of(1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2);

  public StringsAnswer {
    rows = List.copyOf(rows);
    sweep = List.copyOf(sweep);
  }

  /**
   * A string with what the pickup does to it at the level asked for.
   *
   * @param pulls stopped at each of {@link #FRETS}, the open string first
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
   * @param decibels of the signal beside the full charge
   */
  public record Step(FluxDensity level, StringPull pull, double decibels) {}

  /**
   * Works it out; a second or so.
   *
   * @throws IllegalArgumentException with one sentence, where the range ends
   */
  public static StringsAnswer of(VoicedPickup pickup, FluxDensity dialed) {
    int[] frets = FRETS.stream().mapToInt(fret -> fret).toArray();
    List<Row> rows = new ArrayList<>();
    for (int at = 0; at < pickup.set().tuned().size(); at++) {
      StringSet.Tuned tuned = pickup.set().tuned().get(at);
      rows.add(
          new Row(
              tuned,
              pickup
                  .field()
                  .pulls(
                      at, dialed, pickup.distance(), tuned.string(), pickup.fromBridge(), frets)));
    }
    int most = pickup.most();
    StringPull full = pickup.open(most, pickup.full());
    List<Step> sweep = new ArrayList<>();
    for (double part : PARTS) {
      FluxDensity level = pickup.field().level().part(part);
      StringPull pull = pickup.open(most, level);
      sweep.add(new Step(level, pull, pull.decibelsBeside(full)));
    }
    return new StringsAnswer(pickup, dialed, rows, pickup.set().tuned().get(most).note(), sweep);
  }

  /** The level as part of the full charge. */
  public double part() {
    return dialed.tesla() / pickup.full().tesla();
  }

  /** The answer in words. */
  public Told told() {
    List<Passage> passages = new ArrayList<>();
    passages.add(new Passage.Heading(pickup.kind().toString()));
    passages.add(
        new Passage.Sentence(
            said(
                "Level %s, %.0f %% of its full charge; strings %s above the pole.",
                dialed.inGauss(), 100 * part(), pickup.distance().written())));
    passages.add(table());
    passages.add(along());
    passages.add(falling());
    passages.add(new Passage.Sentence(pickup.field().range(dialed)));
    passages.add(
        Passage.Custom.of(LevelHeard.ofLevel(part()) + "; " + LevelHeard.levels(pickup.full())));
    return new Told(passages, plots());
  }

  private Passage table() {
    List<List<String>> cells = new ArrayList<>();
    for (Row row : rows) {
      List<String> each = new ArrayList<>(List.of(row.tuned().note()));
      each.add(said("%.0f N", row.tuned().string().tensionNewtons()));
      each.addAll(PullTable.cells(row.pull()));
      cells.add(each);
    }
    List<String> columns = new ArrayList<>(List.of("string", "tension"));
    columns.addAll(PullTable.COLUMNS);
    return new Passage.Rows("Each open string at this level:", true, columns, 1, cells);
  }

  private Passage along() {
    List<String> columns = new ArrayList<>(List.of("string"));
    FRETS.forEach(fret -> columns.add(fret == 0 ? "open" : String.valueOf(fret)));
    List<List<String>> cells = new ArrayList<>();
    for (Row row : rows) {
      List<String> each = new ArrayList<>(List.of(row.tuned().note()));
      row.pulls().forEach(pull -> each.add(said("%+.2f", pull.cents())));
      cells.add(each);
    }
    return new Passage.Rows(
        "Out of tune along the neck, in cents, by the fret:", true, columns, 1, cells);
  }

  private Passage falling() {
    List<List<String>> cells = new ArrayList<>();
    for (Step step : sweep) {
      List<String> each = new ArrayList<>(List.of(step.level().inGauss()));
      each.add(said("%.0f %%", 100 * step.level().tesla() / pickup.full().tesla()));
      each.addAll(PullTable.cells(step.pull()));
      each.add(said("%+.1f dB", step.decibels()));
      cells.add(each);
    }
    List<String> columns = new ArrayList<>(List.of("level", "of full"));
    columns.addAll(PullTable.COLUMNS);
    columns.add("signal");
    return new Passage.Rows(
        "The string that is pulled most, " + swept + ", as the level falls:",
        true,
        columns,
        0,
        cells);
  }

  private List<Plot> plots() {
    return List.of(
        plot("out of tune, cents", step -> step.pull().cents()),
        plot("field at the string, G", step -> step.pull().fieldTesla() * 1e4),
        plot("pull, mN", step -> step.pull().pullNewtons() * 1e3),
        plot("signal beside full, dB", Step::decibels));
  }

  private Plot plot(String up, ToDoubleFunction<Step> value) {
    List<Step> rising =
        IntStream.range(0, sweep.size()).mapToObj(at -> sweep.get(sweep.size() - 1 - at)).toList();
    return new Plot(
        "String " + swept + " over " + pickup.kind(),
        "level, G",
        up,
        List.of(
            new Plot.Curve(
                "open string",
                rising.stream().map(step -> step.level().tesla() * 1e4).toList(),
                rising.stream().map(step -> value.applyAsDouble(step)).toList())));
  }
}
