package lodestep.voice;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiPredicate;
import lodestep.bench.Lots;
import lodestep.bench.MagnetAsked;
import lodestep.ledger.EventCodec;
import lodestep.paper.Entered;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent.BuildDescribed;
import lodestep.port.StockEvent.BuildNoted;
import lodestep.port.StockEvent.CertificateIssued;
import lodestep.port.StockEvent.PickupBuilt;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * A note of what was made, as a person writes it, judged before it goes on record. Every refusal is
 * an {@link IllegalArgumentException} with one sentence that names the field. Pure.
 */
public final class NoteAsked {

  private static final int LEVELS_MAX = 24;

  /** A magnet can read a little above the nominal full charge, by its lot and its gauge. */
  private static final double ABOVE_FULL = 1.1;

  private NoteAsked() {}

  /**
   * What is written of it, each may be empty where nothing is said.
   *
   * @param levels of each position, with semicolons between
   * @param liked who liked it, {@code said} what else there is to say
   */
  public record Written(
      String day,
      String name,
      String position,
      String levels,
      String tolerance,
      String liked,
      String said) {}

  /** What on record it belongs to; empty and 0 for nothing. */
  public record Linked(String set, long pickup, long certificate) {
    /** Nothing. */
    public static final Linked NOTHING = new Linked("", 0, 0);

    /**
     * What is named, which must be there.
     *
     * @param sign before a field's word in a refusal
     * @param pickup a name; empty for none
     */
    public static Linked of(
        Things things, String sign, String set, String pickup, long certificate) {
      String dialed = set.strip();
      if (!dialed.isEmpty() && !(Papers.found(things, dialed) instanceof Things.Thing.OfSet)) {
        throw new IllegalArgumentException(sign + "set: '" + dialed + "' is no set on record");
      }
      long built =
          pickup.isBlank()
              ? 0
              : things
                  .pickup(pickup)
                  .orElseThrow(
                      () ->
                          new IllegalArgumentException(
                              sign + "pickup: no '" + pickup + "' is on record"))
                  .number();
      if (certificate != 0
          && things
              .entry(certificate)
              .filter(stored -> EventCodec.decode(stored).event() instanceof CertificateIssued)
              .isEmpty()) {
        throw new IllegalArgumentException(
            sign + "certificate: entry " + certificate + " is no certificate");
      }
      return new Linked(dialed, built, certificate);
    }
  }

  /** A note, and how the pickup is built where that was said. */
  public record Made(BuildNoted note, Optional<BuildDescribed> described) {
    /** In the order in which they go on record. */
    public List<LedgerEvent> events() {
      List<LedgerEvent> events = new ArrayList<>(described.stream().toList());
      events.add(note);
      return events;
    }
  }

  /**
   * A note with the links that lead to something on a record.
   *
   * @param missing what it was linked to elsewhere and is not on this record, in words
   */
  public record Here(Made made, List<String> missing) {
    public Here {
      missing = List.copyOf(missing);
    }

    /**
     * Leaves out each link to what is not there, and says so in the note.
     *
     * @param things on record; empty where there is no record yet
     */
    public static Here of(Made made, Optional<Things> things) {
      BuildNoted note = made.note();
      List<String> missing = new ArrayList<>();
      boolean set = has(note.set(), things, NoteAsked::isSet, "set " + note.set(), missing);
      boolean pickup =
          has(note.pickup(), things, NoteAsked::isPickup, "pickup " + note.pickup(), missing);
      boolean paper =
          has(
              note.certificate(),
              things,
              NoteAsked::isCertificate,
              "certificate " + note.certificate(),
              missing);
      if (missing.isEmpty()) {
        return new Here(made, missing);
      }
      BuildNoted plain =
          new BuildNoted(
              note.day(),
              note.name(),
              note.position(),
              note.alloy(),
              note.shape(),
              note.size(),
              note.levelsMicroTesla(),
              note.toleranceMicroTesla(),
              note.inductanceMicroHenries(),
              set ? note.set() : "",
              pickup ? note.pickup() : 0,
              paper ? note.certificate() : 0,
              note.liked(),
              Entered.within(note.said(), String.join(", ", missing) + " not found here"));
      return new Here(new Made(plain, made.described()), missing);
    }

    private static <L> boolean has(
        L link,
        Optional<Things> things,
        BiPredicate<Things, L> known,
        String words,
        List<String> missing) {
      boolean none = link.equals("") || link.equals(0L);
      boolean there = none || things.filter(record -> known.test(record, link)).isPresent();
      if (!there) {
        missing.add(words);
      }
      return there;
    }
  }

  private static boolean isSet(Things things, String set) {
    return things.find(set).filter(Things.Thing.OfSet.class::isInstance).isPresent();
  }

  private static boolean isPickup(Things things, long number) {
    return things
        .entry(number)
        .filter(stored -> EventCodec.decode(stored).event() instanceof PickupBuilt)
        .isPresent();
  }

  private static boolean isCertificate(Things things, long number) {
    return things
        .entry(number)
        .filter(stored -> EventCodec.decode(stored).event() instanceof CertificateIssued)
        .isPresent();
  }

  /** What notes are judged by; it keeps what it worked out. One thread. */
  public static final class Judged {

    private final LocalDate latest;
    private final boolean ownNest;
    private final Map<List<String>, FluxDensity> full = new HashMap<>();

    private Judged(LocalDate latest, boolean ownNest) {
      this.latest = latest;
      this.ownNest = ownNest;
    }

    /**
     * Levels read on this rig: at the stand-off of its nest, where none is said.
     *
     * @param latest day that something can have been made on
     */
    public static Judged here(LocalDate latest) {
      return new Judged(latest, true);
    }

    /** Levels read somewhere: where no stand-off is said, at none that is known. */
    public static Judged elsewhere(LocalDate latest) {
      return new Judged(latest, false);
    }

    /** With the stand-off that its levels are read at, where it is known. */
    private PickupWords read(PickupAsked asked, PickupWords words) {
      if (!ownNest || words.says(Said.STAND_OFF)) {
        return words;
      }
      return asked
          .nestStandOff(words)
          .map(Judged::written)
          .map(away -> words.or(new PickupWords(Map.of(Said.STAND_OFF, away))))
          .orElse(words);
    }

    /** To the micrometre, without noughts behind. */
    private static String written(Length away) {
      String mm = String.format(Locale.ROOT, "%.3f", away.mm());
      return mm.replaceAll("\\.?0+$", "") + " mm";
    }

    /** What such a magnet reads fully charged; empty where nobody said at which stand-off. */
    private Optional<FluxDensity> full(PickupAsked asked, PickupWords words) {
      if (!words.says(Said.STAND_OFF)) {
        return Optional.empty();
      }
      return Optional.of(
          full.computeIfAbsent(
              List.of(
                  words.get(Said.ALLOY),
                  words.get(Said.SHAPE),
                  words.get(Said.SIZE),
                  words.get(Said.STAND_OFF)),
              any -> asked.full(words)));
    }
  }

  /** The note, if all of it can be read and can be. */
  public static Made made(
      PickupAsked asked, PickupWords said, Written written, Linked linked, Judged judged) {
    String sign = asked.sign();
    Entered entered = new Entered(sign);
    if (written.name().isBlank()) {
      throw new IllegalArgumentException(sign + "name: what was made has a name");
    }
    String day = day(sign, written.day(), judged.latest);
    String alloy = said.get(Said.ALLOY);
    PickupAsked.said(sign + "alloy", () -> MagnetAsked.alloy(Lots.of(asked.rig()), alloy));
    PickupAsked.said(
        sign + "size", () -> MagnetAsked.shape(said.get(Said.SHAPE), said.get(Said.SIZE)));
    PickupWords words = judged.read(asked, said);
    List<Long> levels = levels(sign, written.levels());
    requireLevels(sign, levels, judged.full(asked, words));
    BuildNoted note =
        new BuildNoted(
            day,
            entered.line("name", written.name()),
            entered.line("position", written.position()),
            alloy,
            words.get(Said.SHAPE),
            words.get(Said.SIZE),
            levels,
            tolerance(sign, written.tolerance()),
            asked.measured(words).map(henry -> Math.round(1e6 * henry)).orElse(0L),
            entered.line("set", linked.set()),
            linked.pickup(),
            linked.certificate(),
            entered.line("liked by", written.liked()),
            entered.line("said", written.said()));
    BuildDescribed nothing = new PickupWords(Map.of()).describing(note);
    if (!said.describing(note).equals(nothing)) {
      words.said().forEach((field, text) -> entered.line(field.word(), text));
      asked.require(words, levels.size());
    }
    BuildDescribed how = words.describing(note);
    return new Made(note, how.equals(nothing) ? Optional.empty() : Optional.of(how));
  }

  private static void requireLevels(String sign, List<Long> levels, Optional<FluxDensity> full) {
    for (long level : levels) {
      FluxDensity reads = FluxDensity.ofMicroTesla(Math.abs(level));
      if (level == 0
          || full.filter(most -> reads.tesla() > ABOVE_FULL * most.tesla()).isPresent()) {
        throw new IllegalArgumentException(
            sign
                + "levels: more than nothing"
                + full.map(
                        most ->
                            ", and such a magnet reads about " + most.inGauss() + " fully charged")
                    .orElse("")
                + "; not "
                + FluxDensity.ofMicroTesla(level).inGauss());
      }
    }
  }

  private static String day(String sign, String day, LocalDate latest) {
    try {
      LocalDate made = LocalDate.parse(day.strip());
      if (made.isAfter(latest)) {
        throw new IllegalArgumentException(
            sign + "day: " + made + " is not yet; say the day on which it was made");
      }
      return made.toString();
    } catch (DateTimeParseException wrong) {
      throw new IllegalArgumentException(
          sign + "day: a day is written like 2026-05-01, not '" + day + "'", wrong);
    }
  }

  private static long tolerance(String sign, String text) {
    if (text.isBlank()) {
      return 0;
    }
    long half = PickupAsked.said(sign + "tolerance", () -> FluxDensity.parse(text)).microTesla();
    if (half <= 0) {
      throw new IllegalArgumentException(sign + "tolerance: a half width above zero, not " + text);
    }
    return half;
  }

  private static List<Long> levels(String sign, String text) {
    List<Long> levels =
        Arrays.stream(text.split(";", -1))
            .map(
                each ->
                    PickupAsked.said(sign + "levels", () -> FluxDensity.parse(each)).microTesla())
            .toList();
    if (levels.size() > LEVELS_MAX) {
      throw new IllegalArgumentException(sign + "levels: more than " + LEVELS_MAX);
    }
    return levels;
  }
}
