package lodestep.voice;

import static lodestep.voice.PullTable.said;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lodestep.bench.Lots;
import lodestep.bench.MagnetAsked;
import lodestep.dial.RecordedShape;
import lodestep.magnet.FaceModel;
import lodestep.magnet.FluxSource;
import lodestep.magnet.Shape;
import lodestep.paper.Certificate;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.voice.Told.Passage;

/**
 * What a dialed set reached, and what that means to the strings above it. Any thread, immutable.
 *
 * @param rows string by string, the lowest first
 * @param range how far the answer holds
 * @param coil what is said of the pickup's coil
 */
public record ReachedAnswer(List<Row> rows, String range, CoilSaid coil) {

  public ReachedAnswer {
    rows = List.copyOf(rows);
  }

  /**
   * A string with the magnet under it, as it was asked for and as it is.
   *
   * @param ofFull field at the string, as a part of that of full charges
   */
  public record Row(
      String note, MagnetNamed named, FluxDensity level, StringPull pull, double ofFull) {

    /** From its target, as a part of it; positive is stronger. */
    private double off() {
      return level.microTesla() / (double) Math.abs(named.targetMicroTesla()) - 1;
    }

    /** The signal beside that of full charges. */
    public double decibels() {
      return 20 * Math.log10(ofFull);
    }
  }

  /** A magnet of the set: its kind under the strings, and what it reads. */
  private record Magnet(VoicedPickup pickup, MagnetNamed named, FluxDensity level) {

    /** A magnet can read a little above the nominal full charge: it is told as fully charged. */
    FluxDensity held() {
      return level.compareTo(pickup.full()) > 0 ? pickup.full() : level;
    }

    double times() {
      return level.tesla() / held().tesla();
    }

    boolean north() {
      return named.poleUp().equals("north");
    }

    RodRow.Rod rod(boolean full) {
      LevelField field = pickup.field().level();
      return full
          ? new RodRow.Rod(field, field.full(), 1, north())
          : new RodRow.Rod(field, held(), times(), north());
    }
  }

  /**
   * Works it out; a second or so.
   *
   * @param words what is said of poles and strings; the magnets are those on record
   * @param name of the set, for refusals
   * @param levels of its magnets, the lowest string's first; or the one bar's
   * @throws IllegalArgumentException with one sentence
   */
  public static ReachedAnswer of(
      PickupAsked asked, PickupWords words, String name, List<Certificate.Level> levels) {
    if (levels.isEmpty()) {
      throw new IllegalArgumentException("'" + name + "' has no magnet on record");
    }
    // Each magnet's own poles are on record.
    PickupWords placed = words.without(Said.POLES_UP);
    Map<FaceModel, VoicedPickup> known = new HashMap<>();
    List<Magnet> magnets =
        levels.stream().map(level -> magnet(asked, placed, known, level)).toList();
    VoicedPickup first = magnets.get(0).pickup();
    List<Integer> lowestFirst = first.set().lowestFirst();
    if (levels.size() > 1 && levels.size() != lowestFirst.size()) {
      throw new IllegalArgumentException(
          asked.sign()
              + said(
                  "strings: %s has %d magnets, and %d strings are told; say one for each magnet",
                  name, levels.size(), lowestFirst.size()));
    }
    boolean rods =
        magnets.stream().noneMatch(each -> each.pickup().kind().shape() instanceof Shape.Bar);
    return rods && magnets.size() > 1
        ? ofRods(
            magnets,
            lowestFirst,
            PickupAsked.said(asked.sign() + "pitch", () -> Length.parse(words.get(Said.PITCH))))
        : ofOneEach(magnets, lowestFirst);
  }

  private static Magnet magnet(
      PickupAsked asked,
      PickupWords words,
      Map<FaceModel, VoicedPickup> known,
      Certificate.Level level) {
    MagnetNamed named = level.history().identity();
    FaceModel kind =
        FaceModel.of(
            MagnetAsked.alloy(Lots.of(asked.rig()), named.alloy()), RecordedShape.of(named));
    Length standOff = Length.ofMicroMetres(level.standOffMicroMetres());
    return new Magnet(
        known.computeIfAbsent(kind, any -> asked.strings(words, kind, standOff)),
        named,
        FluxDensity.ofMicroTesla(level.verdict().fieldMicroTesla()).magnitude());
  }

  /** Each with its neighbours as they were dialed. */
  private static ReachedAnswer ofRods(
      List<Magnet> magnets, List<Integer> lowestFirst, Length pitch) {
    RodRow row = new RodRow(magnets.stream().map(each -> each.rod(false)).toList(), pitch);
    RodRow full = new RodRow(magnets.stream().map(each -> each.rod(true)).toList(), pitch);
    List<Row> rows = new ArrayList<>();
    for (int at = 0; at < magnets.size(); at++) {
      Magnet magnet = magnets.get(at);
      int string = lowestFirst.get(at);
      StringPull pull = pull(row.above(at), magnet.pickup(), string);
      double most = pull(full.above(at), magnet.pickup(), string).fieldTesla();
      rows.add(row(magnet, string, pull, pull.fieldTesla() / most));
    }
    String range =
        said(
            "Reckoned of each magnet as it reads, with its magnetisation resolved, and its"
                + " neighbours counted, %s from string to string. ",
            pitch.written());
    return new ReachedAnswer(rows, range + PickupField.COMMON, magnets.get(0).pickup().coil());
  }

  private static StringPull pull(FluxSource source, VoicedPickup pickup, int string) {
    SteelString tuned = pickup.set().tuned().get(string).string();
    return StringPull.of(
        source,
        0,
        pickup.distance().metres(),
        0,
        tuned,
        pickup.fromBridge().metres() / tuned.scale().metres());
  }

  private static ReachedAnswer ofOneEach(List<Magnet> magnets, List<Integer> lowestFirst) {
    List<Row> rows = new ArrayList<>();
    for (int at = 0; at < lowestFirst.size(); at++) {
      int string = lowestFirst.get(at);
      Magnet magnet = magnets.get(magnets.size() == 1 ? 0 : at);
      StringPull pull = magnet.pickup().open(string, magnet.held()).times(magnet.times());
      double most = magnet.pickup().open(string, magnet.pickup().full()).fieldTesla();
      rows.add(row(magnet, string, pull, pull.fieldTesla() / most));
    }
    Magnet first = magnets.get(0);
    return new ReachedAnswer(
        rows, first.pickup().field().range(first.held()), first.pickup().coil());
  }

  private static Row row(Magnet magnet, int string, StringPull pull, double ofFull) {
    String note = magnet.pickup().set().tuned().get(string).note();
    return new Row(note, magnet.named(), magnet.level(), pull, ofFull);
  }

  /** The answer in words. */
  public Told told() {
    double part = rows.stream().mapToDouble(Row::ofFull).average().orElse(1);
    double heard = Math.min(1, part);
    List<Passage> passages = new ArrayList<>();
    passages.add(table());
    passages.add(new Passage.Sentence(evenness()));
    spread().ifPresent(said -> passages.add(new Passage.Sentence(said)));
    if (coil.henry().isEmpty()) {
      passages.add(Passage.Custom.of(LevelHeard.ofLevel(heard)));
    }
    passages.addAll(coil.passages(heard));
    passages.add(new Passage.Sentence(range));
    return new Told(passages, List.of());
  }

  /** How alike the magnets are, each beside its own target; empty where there is one alone. */
  private Optional<String> spread() {
    List<Double> off =
        rows.stream()
            .filter(row -> row.named().task().equals("level"))
            .collect(Collectors.toMap(row -> row.named().name(), Row::off, (one, again) -> one))
            .values()
            .stream()
            .sorted()
            .toList();
    return off.size() < 2
        ? Optional.empty()
        : Optional.of(
            said(
                "The magnets are off their targets by %s to %s %%: a spread of %.2f %%.",
                PullTable.signed(100 * off.get(0)),
                PullTable.signed(100 * off.get(off.size() - 1)),
                100 * (off.get(off.size() - 1) - off.get(0))));
  }

  private Passage table() {
    List<List<String>> cells = new ArrayList<>();
    for (Row row : rows) {
      List<String> each = new ArrayList<>();
      each.add(row.note());
      each.add(row.named().name());
      each.add(asked(row.named()));
      each.add(row.level().inGauss());
      each.addAll(PullTable.cells(row.pull()));
      each.add(PullTable.decibels(row.decibels()));
      cells.add(each);
    }
    List<String> columns = new ArrayList<>(List.of("string", "magnet", "asked", "reached"));
    columns.addAll(PullTable.COLUMNS);
    columns.add("signal");
    return new Passage.Rows("What was reached, string by string", false, columns, 2, cells);
  }

  private static String asked(MagnetNamed named) {
    return named.task().equals("level")
        ? FluxDensity.ofMicroTesla(named.targetMicroTesla()).magnitude().inGauss()
        : named.task();
  }

  /** What the levels alone make of loud and soft strings. */
  private String evenness() {
    double most = rows.stream().mapToDouble(row -> row.pull().fieldTesla()).max().orElse(1);
    double least = rows.stream().mapToDouble(row -> row.pull().fieldTesla()).min().orElse(1);
    return said(
        "From the strongest to the weakest field at a string are %.1f dB; strings of other cores"
            + " and heights add to that. Signal is told beside the full charge.",
        20 * Math.log10(most / least));
  }
}
