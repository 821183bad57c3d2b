package lodestep.voice;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import lodestep.magnet.Figure;
import lodestep.magnet.Flux;
import lodestep.magnet.FluxSource;
import lodestep.magnet.Place;
import lodestep.magnet.Shape;
import lodestep.magnet.SteelCircuit;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;

/**
 * What stands under the strings: a magnet under each with its neighbours, one bare bar under all,
 * or a bar with pole pieces. One thread.
 */
public final class PickupField {

  /** What holds of every answer. */
  static final String COMMON =
      "Small swings; strings by the densities of steel and nickel. The level is what the gauge"
          + " reads of the magnet by itself.";

  private static final double NEAR_SATURATED = 0.8;

  private final LevelField level;
  private final int strings;
  private final Length pitch;
  private final Optional<PolePieces> poles;
  private final List<Boolean> north;
  private final @Nullable SteelCircuit steel;
  private final Map<Levels, RodRow> rows = new HashMap<>();
  private final Map<FluxDensity, FluxSource> known = new HashMap<>();

  /**
   * @param level what the magnet makes by itself
   * @param strings how many
   * @param pitch from string to string at the pickup
   * @param poles pole pieces; empty where the strings look at the magnet itself
   * @param north whether north looks at the string, of each rod; a bar has the first alone
   * @throws IllegalArgumentException with one sentence, if poles and magnet do not go together
   */
  public PickupField(
      LevelField level,
      int strings,
      Length pitch,
      Optional<PolePieces> poles,
      List<Boolean> north) {
    this.level = level;
    this.strings = strings;
    this.pitch = pitch;
    this.poles = poles;
    this.north = List.copyOf(north);
    requireApart(level.kind().shape(), pitch, strings);
    if (north.size() != strings) {
      throw new IllegalArgumentException(north.size() + " poles for " + strings + " strings");
    }
    this.steel = poles.map(pieces -> pieces.about(bar(level), susceptibility(level))).orElse(null);
  }

  /** The same pickup with another magnet in it. */
  public PickupField with(LevelField other) {
    return new PickupField(other, strings, pitch, poles, north);
  }

  /** Refuses round magnets that would stand in one another. */
  static void requireApart(Shape shape, Length pitch, int strings) {
    Optional<Length> wide =
        shape instanceof Shape.Rod rod
            ? Optional.of(rod.diameter())
            : shape instanceof Shape.Ring ring ? Optional.of(ring.outside()) : Optional.empty();
    if (strings > 1 && wide.isPresent() && pitch.compareTo(wide.get()) < 0) {
      throw new IllegalArgumentException(
          "magnets of "
              + wide.get().written()
              + " do not stand "
              + pitch.written()
              + " from one another");
    }
  }

  private static Shape.Bar bar(LevelField level) {
    if (level.kind().shape() instanceof Shape.Bar bar) {
      return bar;
    }
    throw new IllegalArgumentException(
        "pole pieces go with a bar, not with a " + level.kind().shape().kind());
  }

  /** Along the recoil line, relative to the magnetic constant. */
  private static double susceptibility(LevelField level) {
    return level.kind().alloy().figure(Figure.RECOIL) - 1;
  }

  /** What the magnet makes by itself. */
  public LevelField level() {
    return level;
  }

  /**
   * Around the top of the pole under a string: x along the string, z up, the origin the middle of
   * the top.
   *
   * @param string from 0
   * @param dialed what the magnet was dialed to by itself
   */
  public FluxSource above(int string, FluxDensity dialed) {
    if (steel != null) {
      Place top = poles.orElseThrow().top(bar(level), string);
      double tesla = level.meanTesla(dialed);
      FluxSource pickup = steel;
      return place ->
          pickup.at(place.moved(top.xMetres(), top.yMetres(), top.zMetres())).times(tesla);
    }
    if (level.kind().shape() instanceof Shape.Bar) {
      FluxSource around = known.computeIfAbsent(dialed, any -> remembered(level.at(dialed)));
      double top = 0.5 * level.kind().shape().height().metres();
      double along = (string - 0.5 * (strings - 1)) * pitch.metres();
      return place -> across(around, place, along, top);
    }
    return row(alike(dialed)).above(string);
  }

  /** The same where each magnet has a level of its own; a bar has one. */
  public FluxSource above(int string, Levels levels) {
    return inRow() ? row(levels).above(string) : above(string, levels.at(string));
  }

  private boolean inRow() {
    return steel == null && !(level.kind().shape() instanceof Shape.Bar);
  }

  private Levels alike(FluxDensity dialed) {
    return Levels.alike(dialed, strings);
  }

  /** The rods, each dialed to its own. */
  private RodRow row(Levels levels) {
    return rows.computeIfAbsent(
        levels,
        any ->
            new RodRow(
                IntStream.range(0, strings)
                    .mapToObj(at -> new RodRow.Rod(level, levels.at(at), 1, north.get(at)))
                    .toList(),
                pitch));
  }

  /** Strings cross a bar: what is along the string is across the bar. */
  private static Flux across(FluxSource bar, Place place, double along, double top) {
    Flux flux = bar.at(new Place(place.yMetres() + along, place.xMetres(), place.zMetres() + top));
    return new Flux(flux.yTesla(), flux.xTesla(), flux.zTesla());
  }

  /** A place asked for again, for another fret or string, costs nothing. */
  static FluxSource remembered(FluxSource source) {
    Map<Place, Flux> places = new HashMap<>();
    return place -> {
      Flux flux = places.get(place);
      if (flux == null) {
        flux = source.at(place);
        places.put(place, flux);
      }
      return flux;
    };
  }

  /**
   * What the pickup does to a string, open and stopped.
   *
   * @param string from 0
   * @param dialed what the magnet was dialed to by itself
   * @param distance from the top of the pole to the middle of the string
   * @param fromBridge where the pole stands
   * @param frets 0 for the open string
   * @throws IllegalArgumentException with one sentence, where the range ends
   */
  public List<StringPull> pulls(
      int string,
      FluxDensity dialed,
      Length distance,
      SteelString tuned,
      Length fromBridge,
      int... frets) {
    return pulls(string, alike(dialed), distance, tuned, fromBridge, frets);
  }

  /** The same where each magnet has a level of its own. */
  public List<StringPull> pulls(
      int string,
      Levels levels,
      Length distance,
      SteelString tuned,
      Length fromBridge,
      int... frets) {
    FluxSource source = remembered(above(string, levels));
    List<StringPull> pulls = new ArrayList<>();
    for (int fret : frets) {
      SteelString stopped = tuned.stopped(fret);
      double part = fromBridge.metres() / stopped.scale().metres();
      pulls.add(StringPull.of(source, 0, distance.metres(), 0, stopped, part));
    }
    return pulls;
  }

  /** Flux density across a string above the middle of its pole, in tesla, without sign. */
  public double atString(int string, FluxDensity dialed, Length distance) {
    return Math.abs(above(string, dialed).at(Place.onAxis(distance.metres())).zTesla());
  }

  /** The largest flux density in a pole piece; empty where there is none. */
  public Optional<FluxDensity> inSteel(FluxDensity dialed) {
    return steel == null
        ? Optional.empty()
        : Optional.of(new FluxDensity(steel.steelTesla() * level.meanTesla(dialed)));
  }

  /**
   * What becomes of a level once the magnet stands between its neighbours.
   *
   * @param opposing the strongest field of the others against one; zero where there are none
   * @param bears the strongest that leaves the level alone
   * @param comesTo what it reads by itself from then on; the level itself where it holds
   */
  public record Settled(FieldStrength opposing, FieldStrength bears, FluxDensity comesTo) {

    /** Whether the level is left alone. */
    public boolean holds() {
      return opposing.compareTo(bears) <= 0;
    }
  }

  /** What becomes of this level between the neighbours. */
  public Settled settled(FluxDensity dialed) {
    return settled(alike(dialed));
  }

  /** What becomes of the strongest of these, which bears least, in what any of them is given. */
  private Settled settled(Levels levels) {
    FluxDensity dialed = levels.most();
    boolean alone = !inRow() || strings == 1;
    FieldStrength opposing = alone ? new FieldStrength(0) : row(levels).opposing();
    FieldStrength bears = level.keeping().peakFor(dialed);
    FluxDensity comesTo =
        opposing.compareTo(bears) <= 0 ? dialed : level.keeping().levelAfter(opposing);
    return new Settled(opposing, bears, comesTo);
  }

  /** How far the answer holds, in words for a person. */
  public String range(FluxDensity dialed) {
    return range(alike(dialed));
  }

  /** The same where each magnet has a level of its own. */
  public String range(Levels levels) {
    if (steel == null) {
      return withoutSteel(levels) + " " + COMMON;
    }
    double tesla = inSteel(levels.mean()).orElseThrow().tesla();
    String two =
        poles.orElseThrow().arranged() == PolePieces.Arranged.BETWEEN_ROWS
            ? " What two rows of opposite pole make along the string, between them, is left out:"
                + " the pull is told too small."
            : "";
    return String.format(
        Locale.ROOT,
        "Soft poles are an approximation: steel of endless permeability, a bar dialed by itself and"
            + " then put between it. Finite elements differ by up to 4 per cent over the inner"
            + " poles and 9 over the outermost, in field and gradient, and in the pull on a string"
            + " by up to 10 and 16. %s.%s %s",
        steelSaid(tesla),
        two,
        COMMON);
  }

  /**
   * How near the steel is to where the answer ends; what iron holds is Bozorth's, Ferromagnetism,
   * from memory.
   */
  private static String steelSaid(double tesla) {
    double part = tesla / SteelCircuit.STEEL_MAX_TESLA;
    String most =
        String.format(
            Locale.ROOT,
            "Most in a pole %.2f T, %.0f %% of the %.1f T up to which pole steel passes flux freely"
                + " (common practice, no source; iron is full at 2.15 T)",
            tesla,
            100 * part,
            SteelCircuit.STEEL_MAX_TESLA);
    if (part > 1) {
      return most + ": field and pull are told too large";
    }
    return part > NEAR_SATURATED ? most + ": near its end, take a thicker pole to be sure" : most;
  }

  private String withoutSteel(Levels levels) {
    String magnet = "Reckoned of the magnet with its magnetisation resolved";
    if (level.kind().shape() instanceof Shape.Bar) {
      return magnet + ", one bar under all strings.";
    }
    if (strings == 1) {
      return magnet + ", with no neighbour: one string is told.";
    }
    List<Double> parts = row(levels).parts();
    double mid = parts.get(strings / 2);
    return String.format(
        Locale.ROOT,
        "%s and its neighbours' fields added, %s from string to string. Put between them after it"
            + " was dialed by itself, a magnet in the middle comes to %.1f %% of its polarisation"
            + " and one at the end to %.1f %%, by the recoil line: that is counted%s.",
        magnet,
        pitch.written(),
        100 * mid,
        100 * parts.get(0),
        beyond(settled(levels)));
  }

  private static String beyond(Settled settled) {
    if (settled.holds()) {
      return "";
    }
    String held =
        settled.bears().amperesPerMetre() > 0
            ? "more than it was knocked down with (" + settled.bears().written() + ")"
            : "and it was not knocked down at all";
    return "; but its neighbours give it "
        + settled.opposing().written()
        + ", "
        + held
        + ", so that it loses more for good and reads about "
        + settled.comesTo().inGauss()
        + " by itself from then on";
  }
}
