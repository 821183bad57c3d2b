package lodestep.bench;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.Assignment.Cost;
import lodestep.config.NestConfig;
import lodestep.dial.Task;
import lodestep.ledger.AcceptedMagnet;
import lodestep.measure.Acceptance;
import lodestep.measure.Judgement;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.quantity.FluxDensity;

/**
 * Dialed magnets put to the positions of sets. Any thread, immutable.
 *
 * <p>Of all ways there are, the one that leaves the fewest positions open; of these the one that
 * asks for the fewest magnets to be dialed again, and of them the fewest to be charged; and then
 * the one whose deviations from their positions' targets, each as a part of its target, have the
 * least sum of squares. Where the plan gives a set a spread, its magnets fit together only when
 * their deviations, as they read, lie no further apart than that: {@link SpreadSearch}.
 *
 * @param places one for each position, in the order of the plan
 * @param spreads which sets have a spread, as a part of the targets
 * @param best whether no other way is better; else the search was ended before it could tell
 */
public record Matching(List<Place> places, Map<String, Double> spreads, boolean best) {

  private static final double PARTS_PER_MILLION = 1e6;

  /** Deviations are counted up to this, so that sums of squares stay exact. */
  private static final long PARTS_MAX = 20_000_000;

  public Matching {
    places = List.copyOf(places);
    spreads = Map.copyOf(spreads);
  }

  /**
   * One position of a set.
   *
   * @param row what it asks for
   * @param name of the position
   */
  public record Position(PlanRow row, String name) {

    /** The level asked. */
    public Task.ToLevel level() {
      return (Task.ToLevel) row.task();
    }

    /** The set it belongs to; the empty text if none is named. */
    public String set() {
      return row.set().orElse("");
    }
  }

  /** What has to be done with a magnet before it fits its position. */
  public enum Remedy {
    /** Nothing: it lies inside the tolerance, guard band counted in. */
    FITS,
    /** It is stronger than asked. */
    KNOCK_DOWN,
    /** It is weaker than asked, or its other pole faces up: charged again first. */
    CHARGE
  }

  /**
   * A position and what goes there.
   *
   * @param magnet empty where no magnet of this kind is left
   */
  public record Place(Position position, Optional<Placed> magnet) {}

  /**
   * A magnet at its position.
   *
   * @param deviation from the position's target as a part of it; positive is stronger
   * @param within whether it lies inside the tolerance, guard band counted in
   */
  public record Placed(AcceptedMagnet magnet, double deviation, Remedy remedy, boolean within) {

    /** Whether its face reads the other pole than its position's target. */
    public boolean otherPole() {
      return deviation < -1;
    }

    /** Whether it is good by itself, and only too unlike the others of its set. */
    public boolean unlikeItsSet() {
      return within && remedy != Remedy.FITS;
    }

    /** The same where its set asks for this of it. */
    Placed needing(Remedy other) {
      return new Placed(magnet, deviation, other, within);
    }
  }

  /**
   * How far magnets of a set may differ, as a person writes it, as a part of their targets.
   *
   * @throws IllegalArgumentException with one sentence, if it is none
   */
  public static double spread(String text) {
    return SpreadsTaken.fraction(text);
  }

  /**
   * The best matching.
   *
   * @param rows of a plan; each asks for a level
   * @param magnets that may be used; those of another alloy, shape, size or nest fit nowhere
   * @param seatings how magnets lie in the rig's nests; each magnet is judged by what was known
   *     when its level was
   * @throws IllegalArgumentException with one sentence, if a row asks for no level
   */
  public static Matching of(
      List<PlanRow> rows, List<AcceptedMagnet> magnets, NestSeatings seatings) {
    List<Position> positions = positions(rows);
    List<List<Optional<Placed>>> options =
        positions.stream()
            .<List<Optional<Placed>>>map(
                position ->
                    magnets.stream().map(magnet -> placed(position, magnet, seatings)).toList())
            .toList();
    Map<String, Double> spreads = new HashMap<>();
    rows.forEach(row -> row.spread().ifPresent(part -> spreads.put(row.set().orElse(""), part)));
    SpreadSearch.Found found = new SpreadSearch(positions, options, spreads).best();
    List<Place> places = new ArrayList<>();
    for (int at = 0; at < positions.size(); at++) {
      places.add(new Place(positions.get(at), found.placed().get(at)));
    }
    return new Matching(places, spreads, found.proven());
  }

  private static List<Position> positions(List<PlanRow> rows) {
    List<Position> positions = new ArrayList<>();
    for (PlanRow row : rows) {
      if (!(row.task() instanceof Task.ToLevel)) {
        throw new IllegalArgumentException(
            "line "
                + row.line()
                + " asks for '"
                + row.task().targetWords()
                + "'; a position of a set asks for a level, such as 410 G");
      }
      for (int ordinal = 1; ordinal <= row.count(); ordinal++) {
        positions.add(new Position(row, row.nameOf(ordinal)));
      }
    }
    return positions;
  }

  private static Optional<Placed> placed(
      Position position, AcceptedMagnet magnet, NestSeatings seatings) {
    if (!sameKind(position.row(), magnet) || !readAlike(position.row().nest(), magnet)) {
      return Optional.empty();
    }
    FluxDensity target = position.level().target();
    FluxDensity reading = FluxDensity.ofMicroTesla(magnet.fieldMicroTesla());
    FluxDensity uncertainty =
        seatings
            .before(magnet.knownBy())
            .in(position.row().nest())
            .ofLevel(reading, new FluxDensity(magnet.uncertaintyNanoTesla() * 1e-9));
    Judgement judgement =
        Acceptance.guarded(target, position.level().tolerance()).judge(reading, uncertainty);
    Remedy remedy =
        switch (judgement) {
          case ACCEPT -> Remedy.FITS;
          case ABOVE -> Remedy.KNOCK_DOWN;
          case BELOW -> Remedy.CHARGE;
        };
    double deviation = (reading.tesla() - target.tesla()) / target.tesla();
    return Optional.of(new Placed(magnet, deviation, remedy, remedy == Remedy.FITS));
  }

  /**
   * Whether a magnet was judged as far from the gauge as this nest reads now: levels compare only
   * where they are taken alike.
   */
  public static boolean readAlike(NestConfig nest, AcceptedMagnet magnet) {
    return magnet.standOffMicroMetres() == 0
        || magnet.standOffMicroMetres() == nest.standOff().microMetres();
  }

  private static boolean sameKind(PlanRow row, AcceptedMagnet magnet) {
    // By the very words and sizes that a magnet of this row would be recorded with.
    MagnetNamed like = Entry.naming(row, 1, 0);
    MagnetNamed identity = magnet.identity();
    return like.alloy().equals(identity.alloy())
        && like.shape().equals(identity.shape())
        && like.sizesMicroMetres().equals(identity.sizesMicroMetres())
        && like.nest().equals(identity.nest());
  }

  /** What it costs to put it there. */
  static Cost cost(Placed placed) {
    long parts = Math.min(PARTS_MAX, Math.round(Math.abs(placed.deviation()) * PARTS_PER_MILLION));
    return switch (placed.remedy()) {
      case FITS -> Cost.of(0, 0, 0, parts * parts, 0);
      case KNOCK_DOWN -> Cost.of(0, 1, 0, 0, parts);
      case CHARGE -> Cost.of(0, 1, 1, 0, parts);
    };
  }

  /**
   * How well a set goes together.
   *
   * @param set its name
   * @param positions how many it has
   * @param fitting how many of them are filled by a magnet that fits as it is
   * @param spread from the least to the greatest deviation of those, as a part of the targets
   * @param worst largest deviation of those without sign
   * @param asked the spread that its plan gives it, as a part of the targets; empty for none
   * @param room deviations at which what is dialed again goes with those that fit; empty where no
   *     spread is asked, nothing is to be dialed again, or none fits
   */
  public record SetFigures(
      String set,
      int positions,
      int fitting,
      double spread,
      double worst,
      Optional<Double> asked,
      Optional<Room> room) {

    private static SetFigures of(String set, List<Place> places, Optional<Double> asked) {
      List<Double> deviations =
          places.stream()
              .flatMap(place -> place.magnet().stream())
              .filter(placed -> placed.remedy() == Remedy.FITS)
              .map(Placed::deviation)
              .toList();
      double least = deviations.stream().mapToDouble(Double::doubleValue).min().orElse(0);
      double most = deviations.stream().mapToDouble(Double::doubleValue).max().orElse(0);
      return new SetFigures(
          set,
          places.size(),
          deviations.size(),
          most - least,
          Math.max(Math.abs(least), Math.abs(most)),
          asked,
          asked
              .filter(any -> !deviations.isEmpty() && deviations.size() < places.size())
              .map(part -> new Room(most - part, least + part)));
    }

    /** Whether every position has a magnet that fits as it is. */
    public boolean complete() {
      return fitting == positions;
    }
  }

  /** From one deviation to another, as parts of a target. */
  public record Room(double least, double most) {}

  /** One for each set, in the order of the plan. */
  public List<SetFigures> sets() {
    Map<String, List<Place>> bySet = new LinkedHashMap<>();
    places.forEach(
        place ->
            bySet.computeIfAbsent(place.position().set(), set -> new ArrayList<>()).add(place));
    return bySet.entrySet().stream()
        .map(
            each ->
                SetFigures.of(
                    each.getKey(),
                    each.getValue(),
                    Optional.ofNullable(spreads.get(each.getKey()))))
        .toList();
  }

  /** Whether every position of every set is filled as it is. */
  public boolean complete() {
    return sets().stream().allMatch(SetFigures::complete);
  }
}
