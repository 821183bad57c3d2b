package lodestep.voice;

import static lodestep.voice.PullTable.said;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import lodestep.magnet.FaceModel;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.voice.Told.Passage;

/**
 * Notes die too soon, or beat: what weaker pole to try, beside the pickup as it is. Any thread,
 * immutable.
 *
 * @param pickup as it is
 * @param now its level
 * @param note of the string that is pulled most
 * @param here what is done to that string now
 * @param tries what can be tried
 * @param henry of the coil; empty if nobody said
 */
public record SustainAnswer(
    VoicedPickup pickup,
    FluxDensity now,
    String note,
    StringPull here,
    List<Try> tries,
    Optional<Double> henry) {

  /** What is tried where the same magnet is dialed to less. */
  public static final String LESS = "knocked down to";

  private static final double[] PARTS = {0.9, 0.8, 0.7, 0.6, 0.5};
  private static final double[] LOWER_MM = {0.5, 1, 1.5};

  /** Less of the field at the strings than this is no pickup any more; common practice. */
  private static final double LEAST_PART = 0.35;

  public SustainAnswer {
    tries = List.copyOf(tries);
  }

  /** Something to try, and what it does to the string that is pulled most. */
  public record Try(String what, FluxDensity level, StringPull pull) {}

  /**
   * Works it out; a few seconds.
   *
   * @param others the same magnet of other alloys
   * @throws IllegalArgumentException with one sentence, where the range ends
   */
  public static SustainAnswer of(
      VoicedPickup pickup, FluxDensity now, List<FaceModel> others, Optional<Double> henry) {
    int string = pickup.most();
    StringPull here = pickup.open(string, now);
    List<Try> tries = new ArrayList<>();
    for (double part : PARTS) {
      FluxDensity less = new FluxDensity(part * now.tesla());
      tries.add(new Try(LESS, less, pickup.open(string, less)));
    }
    for (double mm : LOWER_MM) {
      Length away = new Length(pickup.distance().metres() + mm * 1e-3);
      tries.add(new Try(said("lowered by %.1f mm", mm), now, pickup.openAt(string, now, away)));
    }
    tries.addAll(weaker(pickup, others, string, here));
    return new SustainAnswer(
        pickup, now, pickup.set().tuned().get(string).note(), here, tries, henry);
  }

  /** Alloys that fully charged do less to the string, the strongest of them first. */
  private static List<Try> weaker(
      VoicedPickup pickup, List<FaceModel> others, int string, StringPull here) {
    List<Try> found = new ArrayList<>();
    for (FaceModel kind : others) {
      VoicedPickup other = pickup.with(kind);
      StringPull pull = other.open(string, other.full());
      double part = pull.fieldTesla() / here.fieldTesla();
      if (part < 1 && part > LEAST_PART) {
        found.add(new Try(kind.alloy().name() + ", full", other.full(), pull));
      }
    }
    found.sort(Comparator.comparingDouble((Try one) -> one.pull().fieldTesla()).reversed());
    return found;
  }

  /** The answer in words. */
  public Told told() {
    List<Passage> passages = new ArrayList<>();
    passages.add(new Passage.Heading(pickup.kind().toString()));
    passages.add(
        new Passage.Sentence(
            said(
                "As it is: level %s, strings %s above the pole. What can be tried, told of string"
                    + " %s, which is pulled most:",
                now.inGauss(), pickup.distance().written(), note)));
    passages.add(table());
    passages.add(new Passage.Sentence(computed(tries.get(1))));
    passages.add(Passage.Custom.of(LevelHeard.ofSustain()));
    henry.ifPresent(
        coil ->
            passages.add(
                new Passage.Custom(
                    "As it is, likewise custom: "
                        + LevelHeard.together(now.tesla() / pickup.full().tesla(), coil)
                        + ".")));
    passages.add(new Passage.Sentence(pickup.field().range(now)));
    return new Told(passages, List.of());
  }

  private Passage table() {
    List<List<String>> cells = new ArrayList<>();
    cells.add(row(new Try("as it is", now, here)));
    tries.forEach(one -> cells.add(row(one)));
    List<String> columns = new ArrayList<>(List.of("try", "level"));
    columns.addAll(PullTable.COLUMNS);
    columns.add("signal");
    return new Passage.Rows("What can be tried", false, columns, 1, cells);
  }

  private List<String> row(Try one) {
    List<String> cells = new ArrayList<>(List.of(one.what(), one.level().inGauss()));
    cells.addAll(PullTable.cells(one.pull()));
    cells.add(said("%+.1f dB", one.pull().decibelsBeside(here)));
    return cells;
  }

  private String computed(Try less) {
    return said(
        "Computed: knocked down to %s the pole pulls with %.0f %% of its force, the string is %.2f"
            + " cents nearer to its pitch and beats %.3f Hz slower, and the signal is %.1f dB"
            + " less. How fast a note dies is not computed: what a pole takes of a string's energy"
            + " is next to nothing, and beats are what is heard.",
        less.level().inGauss(),
        100 * less.pull().pullNewtons() / here.pullNewtons(),
        less.pull().cents() - here.cents(),
        here.splittingHertz() - less.pull().splittingHertz(),
        -less.pull().decibelsBeside(here));
  }
}
