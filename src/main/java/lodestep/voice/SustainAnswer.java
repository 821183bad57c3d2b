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
 */
public record SustainAnswer(
    VoicedPickup pickup, FluxDensity now, String note, StringPull here, List<Try> tries) {

  /** What is tried where the same magnet is dialed to less. */
  public static final String LESS = "knocked down to";

  private static final String FULL = ", full";

  private static final double[] PARTS = {0.9, 0.8, 0.7, 0.6, 0.5};
  private static final double[] LOWER_MM = {0.5, 1, 1.5};

  /** Less of the field at the strings than this is no pickup any more; common practice. */
  private static final double LEAST_PART = 0.35;

  public SustainAnswer {
    tries = List.copyOf(tries);
  }

  /**
   * Something to try, and what it does to the string that is pulled most.
   *
   * @param settled what becomes of its level between the neighbours
   */
  public record Try(String what, FluxDensity level, StringPull pull, PickupField.Settled settled) {}

  /**
   * Works it out; a few seconds.
   *
   * @param others the same magnet of other alloys
   * @throws IllegalArgumentException with one sentence, where the range ends
   */
  public static SustainAnswer of(VoicedPickup pickup, FluxDensity now, List<FaceModel> others) {
    int string = pickup.most();
    StringPull here = pickup.open(string, now);
    List<Try> tries = new ArrayList<>();
    for (double part : PARTS) {
      FluxDensity less = new FluxDensity(part * now.tesla());
      tries.add(new Try(LESS, less, pickup.open(string, less), pickup.field().settled(less)));
    }
    for (double mm : LOWER_MM) {
      Length away = new Length(pickup.distance().metres() + mm * 1e-3);
      StringPull pull = pickup.openAt(string, now, away);
      tries.add(new Try(said("lowered by %.1f mm", mm), now, pull, pickup.field().settled(now)));
    }
    tries.addAll(weaker(pickup, others, string, here));
    return new SustainAnswer(pickup, now, pickup.set().tuned().get(string).note(), here, tries);
  }

  /** The same, of whose coil this is said: it is the pickup's own. */
  public static SustainAnswer of(
      VoicedPickup pickup, FluxDensity now, List<FaceModel> others, Optional<Double> henry) {
    CoilSaid coil = new CoilSaid(henry, pickup.coil().reckoned(), pickup.coil().notes());
    return of(pickup.about(coil), now, others);
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
        PickupField.Settled settled = other.field().settled(other.full());
        found.add(new Try(kind.alloy().name() + FULL, other.full(), pull, settled));
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
    String lost = lost();
    if (!lost.isEmpty()) {
      passages.add(new Passage.Sentence(lost));
    }
    passages.add(Passage.Custom.of(LevelHeard.ofSustain()));
    passages.addAll(pickup.coil().passages(now.tesla() / pickup.full().tesla()));
    passages.add(new Passage.Sentence(pickup.field().range(now)));
    return new Told(passages, List.of());
  }

  /** Which of them do not hold beside their neighbours what the table tells. */
  private String lost() {
    List<String> each =
        tries.stream()
            .filter(one -> one.what().endsWith(FULL) || one.what().equals(LESS))
            .filter(one -> !one.settled().holds())
            .map(
                one ->
                    said(
                        "%s %s comes to about %s, as it reads by itself",
                        one.what().equals(LESS) ? LESS : one.what() + " at",
                        one.level().inGauss(),
                        one.settled().comesTo().inGauss()))
            .toList();
    return each.isEmpty()
        ? ""
        : "Mind, not all of them hold their level beside their neighbours, which take some of it"
            + " for good: "
            + String.join("; ", each)
            + ". Their rows are told before that loss: dial a magnet below what it comes to.";
  }

  private Passage table() {
    List<List<String>> cells = new ArrayList<>();
    cells.add(row(new Try("as it is", now, here, pickup.field().settled(now))));
    tries.forEach(one -> cells.add(row(one)));
    List<String> columns = new ArrayList<>(List.of("try", "level"));
    columns.addAll(PullTable.COLUMNS);
    columns.add("signal");
    return new Passage.Rows("What can be tried", false, columns, 1, cells);
  }

  private List<String> row(Try one) {
    List<String> cells = new ArrayList<>(List.of(one.what(), one.level().inGauss()));
    cells.addAll(PullTable.cells(one.pull()));
    cells.add(PullTable.decibels(one.pull().decibelsBeside(here)));
    return cells;
  }

  private String computed(Try less) {
    return said(
        "Computed: knocked down to %s the pole pulls with %.0f %% of its force, the string is %s"
            + " nearer to its pitch and beats %s slower, and the signal is %.1f dB"
            + " less. How fast a note dies is not computed: what a pole takes of a string's energy"
            + " is next to nothing, and beats are what is heard.",
        less.level().inGauss(),
        100 * less.pull().pullNewtons() / here.pullNewtons(),
        PullTable.cents(less.pull().cents() - here.cents()),
        PullTable.hertz(here.splittingHertz() - less.pull().splittingHertz()),
        -less.pull().decibelsBeside(here));
  }
}
