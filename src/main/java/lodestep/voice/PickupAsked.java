package lodestep.voice;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import lodestep.bench.Lots;
import lodestep.bench.MagnetAsked;
import lodestep.config.RigConfig;
import lodestep.magnet.Alloy;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Figure;
import lodestep.magnet.Shape;
import lodestep.quantity.Capacitance;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Inductance;
import lodestep.quantity.Length;
import lodestep.quantity.Resistance;

/**
 * Reads what a person said of a pickup. Every refusal is an {@link IllegalArgumentException} with
 * one sentence that names the field. Pure.
 *
 * @param rig whose alloys, lots and nests are meant
 * @param sign before a field's word in a refusal: two dashes on a command line, nothing on a page
 */
public record PickupAsked(RigConfig rig, String sign) {

  /** An alnico is read no further off: there is next to nothing left. */
  private static final Length STAND_OFF_MAX = Length.ofMm(50);

  /** Farther off a pole is heard by no coil. Common practice, no source. */
  private static final Length DISTANCE_MAX = Length.ofMm(20);

  /** The whole pickup under its strings; some tenths of a second. */
  public VoicedPickup pickup(PickupWords words) {
    requireCoil(words);
    FaceModel kind = kind(words, words.get(Said.ALLOY));
    return strings(words, kind, standOff(words, kind));
  }

  /** Such a magnet of this alloy. */
  public FaceModel kind(PickupWords words, String alloy) {
    if (alloy.isBlank() || !words.says(Said.SIZE)) {
      throw new IllegalArgumentException(
          sign
              + (alloy.isBlank() ? Said.ALLOY : Said.SIZE).word()
              + ": say what magnet it is, by alloy and size"
              + (sign.equals("--") ? ", or name a past build by --like" : ""));
    }
    Alloy found = said(Said.ALLOY, () -> MagnetAsked.alloy(Lots.of(rig), alloy));
    Shape shape =
        said(Said.SIZE, () -> MagnetAsked.shape(words.get(Said.SHAPE), words.get(Said.SIZE)));
    return FaceModel.of(found, shape).seenBy(Lots.element(rig));
  }

  /** The same magnet of every other alloy that is dialed. */
  public List<FaceModel> others(PickupWords words, FaceModel own) {
    return Lots.of(rig).alloys().stream()
        .filter(alloy -> alloy.family().isDialed())
        .filter(alloy -> !alloy.name().equals(own.alloy().name()))
        .map(alloy -> kind(words, alloy.name()))
        .toList();
  }

  private Length standOff(PickupWords words, FaceModel kind) {
    String asked = words.get(Said.STAND_OFF);
    if (asked.isEmpty()) {
      return nest(kind.shape())
          .orElseThrow(
              () ->
                  new IllegalArgumentException(
                      sign
                          + "stand-off: this rig has no nest for such a shape; say how far the"
                          + " gauge is from the pole face"));
    }
    Length away = said(Said.STAND_OFF, () -> Length.parse(asked));
    if (away.compareTo(STAND_OFF_MAX) > 0 || away.metres() < 0) {
      throw new IllegalArgumentException(
          sign + "stand-off: it is 0 to " + STAND_OFF_MAX.written() + ", not " + asked);
    }
    return away;
  }

  private Optional<Length> nest(Shape shape) {
    return MagnetAsked.reaches(shape, rig).stream()
        .findFirst()
        .map(reach -> reach.nest().standOff());
  }

  /** Of the rig's nest for such a magnet; empty where it has none. */
  Optional<Length> nestStandOff(PickupWords words) {
    return nest(MagnetAsked.shape(words.get(Said.SHAPE), words.get(Said.SIZE)));
  }

  /** What such a magnet reads fully charged, at the stand-off that is said. */
  FluxDensity full(PickupWords words) {
    FaceModel kind = kind(words, words.get(Said.ALLOY));
    return kind.chargedField(standOff(words, kind)).magnitude();
  }

  /** The strings, as they are written. */
  StringSet stringSet(PickupWords words) {
    Length scale = length(words, Said.SCALE);
    said(Said.SCALE, () -> SteelString.scale(scale));
    return said(Said.STRINGS, () -> StringSet.read(words.get(Said.STRINGS), scale));
  }

  /** Such a magnet, read at this stand-off by itself, in its pickup under the strings. */
  public VoicedPickup strings(PickupWords words, FaceModel kind, Length standOff) {
    StringSet set = stringSet(words);
    int count = set.tuned().size();
    Length apart = length(words, Said.PITCH);
    Length away = length(words, Said.DISTANCE);
    Length place = length(words, Said.FROM_BRIDGE);
    requirePlaced(set, away, place);
    Optional<PolePieces> pieces = pieces(words, apart, count);
    List<Boolean> north = north(words.get(Said.POLES_UP), count);
    LevelField level = new LevelField(kind, standOff);
    PickupField field =
        said(
            pieces.isPresent() ? Said.POLES : Said.PITCH,
            () -> new PickupField(level, count, apart, pieces, north));
    return new VoicedPickup(kind, standOff, field, set, away, place, CoilSaid.of(this, words));
  }

  /**
   * Refuses what nobody can read of poles, strings and coil, and what cannot be, without working
   * anything out.
   *
   * @param levels of how many positions
   */
  void require(PickupWords words, int levels) {
    StringSet set = stringSet(words);
    Length apart = length(words, Said.PITCH);
    pieces(words, apart, set.tuned().size());
    north(words.get(Said.POLES_UP), set.tuned().size());
    Length away = length(words, Said.DISTANCE);
    Length place = length(words, Said.FROM_BRIDGE);
    requirePlaced(set, away, place);
    Shape shape = MagnetAsked.shape(words.get(Said.SHAPE), words.get(Said.SIZE));
    if (words.says(Said.STRINGS)) {
      requireForEach(shape, set.tuned().size(), levels);
    }
    if (words.says(Said.PITCH)) {
      said(
          Said.PITCH,
          () -> {
            PickupField.requireApart(shape, apart, set.tuned().size());
            return shape;
          });
    }
    requireCoil(words);
  }

  /** Refuses poles that the strings touch or do not hear, and places where no pickup stands. */
  private void requirePlaced(StringSet set, Length away, Length place) {
    if (away.compareTo(DISTANCE_MAX) > 0) {
      throw new IllegalArgumentException(
          sign
              + "distance: strings are up to "
              + DISTANCE_MAX.written()
              + " above a pole, not "
              + away.written());
    }
    for (StringSet.Tuned each : set.tuned()) {
      said(
          Said.DISTANCE,
          () -> {
            StringPull.requireAbove(away.metres(), each.string());
            return each;
          });
      said(
          Said.FROM_BRIDGE,
          () -> {
            StringPull.requireUnder(place.metres() / scaleOf(each), each.string());
            return each;
          });
      if (place.metres() > 0.5 * scaleOf(each)) {
        throw new IllegalArgumentException(
            sign
                + "from-bridge: beyond the middle of the string, at "
                + new Length(0.5 * scaleOf(each)).written()
                + ", is the fingerboard, and no pickup; not "
                + place.written());
      }
    }
  }

  private static double scaleOf(StringSet.Tuned tuned) {
    return tuned.string().scale().metres();
  }

  private void requireForEach(Shape shape, int strings, int levels) {
    int wanted = shape instanceof Shape.Bar ? 1 : strings;
    if (levels != wanted) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%slevels: %d for %d strings; say %s",
              sign,
              levels,
              strings,
              wanted == 1 ? "one, of the one magnet" : "one for each magnet"));
    }
  }

  /** Refuses what nobody can read of the coil, also where it is not needed. */
  void requireCoil(PickupWords words) {
    measured(words);
    farads(words);
    turns(words);
    for (Said field : List.of(Said.RESISTANCE, Said.LOAD)) {
      if (words.says(field)) {
        ohms(words, field);
      }
    }
    for (Said field : List.of(Said.TURNS, Said.COUNT)) {
      if (words.says(field)) {
        whole(words, field);
      }
    }
    for (Said field : List.of(Said.WINDING, Said.CORES)) {
      if (words.says(field)) {
        rod(words, field);
      }
    }
    susceptibility(words);
  }

  private Length length(PickupWords words, Said field) {
    return said(field, () -> Length.parse(words.get(field)));
  }

  private Optional<PolePieces> pieces(PickupWords words, Length apart, int count) {
    if (!words.says(Said.POLES)) {
      if (words.says(Said.KEEPER)) {
        throw new IllegalArgumentException(
            sign + "keeper: a keeper goes with " + sign + "poles; say their size");
      }
      return Optional.empty();
    }
    Shape.Rod pole = rod(words, Said.POLES);
    PolePieces.Arranged how =
        said(Said.ARRANGED, () -> PolePieces.Arranged.read(words.get(Said.ARRANGED)));
    Optional<PolePieces.Keeper> keeper =
        words.says(Said.KEEPER)
            ? Optional.of(said(Said.KEEPER, () -> keeper(words.get(Said.KEEPER))))
            : Optional.empty();
    return Optional.of(
        said(
            Said.POLES,
            () -> new PolePieces(how, pole.diameter(), pole.length(), apart, count, keeper)));
  }

  private static PolePieces.Keeper keeper(String size) {
    Shape.Bar bar = (Shape.Bar) MagnetAsked.shape("bar", size);
    return new PolePieces.Keeper(bar.length(), bar.width(), bar.thickness());
  }

  private Shape.Rod rod(PickupWords words, Said field) {
    return (Shape.Rod) said(field, () -> MagnetAsked.shape("rod", words.get(field)));
  }

  /**
   * Which poles look at the strings, true for north.
   *
   * @param poles one word for all, or one for each with semicolons between
   */
  public List<Boolean> north(String poles, int count) {
    List<Boolean> written = Arrays.stream(poles.split(";", -1)).map(this::isNorth).toList();
    if (written.size() == 1) {
      return IntStream.range(0, count).mapToObj(any -> written.get(0)).toList();
    }
    if (written.size() != count) {
      throw new IllegalArgumentException(
          sign
              + "poles-up: "
              + written.size()
              + " poles for "
              + count
              + " positions; one word for all, or one for each");
    }
    return written;
  }

  private boolean isNorth(String word) {
    String plain = word.strip().toLowerCase(Locale.ROOT);
    if (!plain.equals("north") && !plain.equals("south")) {
      throw new IllegalArgumentException(
          sign + "poles-up: north or south, not '" + word.strip() + "'");
    }
    return plain.equals("north");
  }

  /** Of the coil in henries, measured or else reckoned from its turns; empty if neither is said. */
  public Optional<Double> henries(PickupWords words) {
    return measured(words).or(() -> turns(words).map(CoilTurns::henries));
  }

  /** Of the coil in henries, as it was measured; empty if nobody said. */
  Optional<Double> measured(PickupWords words) {
    return words.says(Said.INDUCTANCE)
        ? Optional.of(
            CoilBounds.INDUCTANCE.read(sign, words, text -> Inductance.parse(text).henries()))
        : Optional.empty();
  }

  /** Of coil and cable in farads; empty if nobody said. */
  public Optional<Double> farads(PickupWords words) {
    return words.says(Said.CAPACITANCE)
        ? Optional.of(
            CoilBounds.CAPACITANCE.read(sign, words, text -> Capacitance.parse(text).farads()))
        : Optional.empty();
  }

  /** In ohms: of the coil, or what it works into. */
  public double ohms(PickupWords words, Said field) {
    if (!words.says(field)) {
      throw new IllegalArgumentException(
          sign
              + field.word()
              + (field == Said.LOAD
                  ? ": say what it works into, potentiometers and amplifier together"
                  : ": say the coil's own, as a meter reads it"));
    }
    return (field == Said.LOAD ? CoilBounds.LOAD : CoilBounds.RESISTANCE)
        .read(sign, words, text -> Resistance.parse(text).ohms());
  }

  /** The coil by its turns; empty if it is not described whole. */
  public Optional<CoilTurns> turns(PickupWords words) {
    if (!words.says(Said.TURNS) || !words.says(Said.WINDING) || !words.says(Said.CORES)) {
      return Optional.empty();
    }
    double wound = whole(words, Said.TURNS);
    Shape.Rod room = rod(words, Said.WINDING);
    Shape.Rod core = rod(words, Said.CORES);
    Length apart = length(words, Said.PITCH);
    int count = whole(words, Said.COUNT);
    double susceptibility = susceptibility(words);
    return Optional.of(
        said(
            Said.TURNS,
            () ->
                new CoilTurns(
                    wound, room.diameter(), room.length(), apart, count, core, susceptibility)));
  }

  /** Of the cores; endless for steel. */
  private double susceptibility(PickupWords words) {
    String of = words.get(Said.CORES_OF);
    return of.equalsIgnoreCase(Said.CORES_OF.usual())
        ? Double.POSITIVE_INFINITY
        : said(Said.CORES_OF, () -> MagnetAsked.alloy(Lots.of(rig), of)).figure(Figure.RECOIL) - 1;
  }

  private int whole(PickupWords words, Said field) {
    String text = words.get(field);
    if (!text.matches("[0-9]{1,6}")) {
      throw new IllegalArgumentException(
          sign + field.word() + ": a whole number, not '" + text + "'");
    }
    return Integer.parseInt(text);
  }

  private <Q> Q said(Said field, Supplier<Q> read) {
    return said(sign + field.word(), read);
  }

  /** What a field says; a refusal names it. */
  public static <Q> Q said(String field, Supplier<Q> read) {
    try {
      return read.get();
    } catch (IllegalArgumentException wrong) {
      throw new IllegalArgumentException(field + ": " + wrong.getMessage(), wrong);
    }
  }
}
