package lodestep.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.Assignment.Cost;
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
 * least sum of squares.
 *
 * @param places one for each position, in the order of the plan
 */
public record Matching(List<Place> places) {

  private static final double PARTS_PER_MILLION = 1e6;

  /** Deviations are counted up to this, so that sums of squares stay exact. */
  private static final long PARTS_MAX = 20_000_000;

  public Matching {
    places = List.copyOf(places);
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
   */
  public record Placed(AcceptedMagnet magnet, double deviation, Remedy remedy) {

    /** Whether its face reads the other pole than its position's target. */
    public boolean otherPole() {
      return deviation < -1;
    }
  }

  /**
   * The best matching.
   *
   * @param rows of a plan; each asks for a level
   * @param magnets that may be used; those of another alloy, shape, size or nest fit nowhere
   * @throws IllegalArgumentException with one sentence, if a row asks for no level
   */
  public static Matching of(List<PlanRow> rows, List<AcceptedMagnet> magnets) {
    List<Position> positions = positions(rows);
    List<List<Optional<Placed>>> options =
        positions.stream()
            .<List<Optional<Placed>>>map(
                position -> magnets.stream().map(magnet -> placed(position, magnet)).toList())
            .toList();
    List<List<Cost>> costs = new ArrayList<>();
    for (List<Optional<Placed>> row : options) {
      List<Cost> all = new ArrayList<>();
      row.forEach(option -> all.add(option.map(Matching::cost).orElse(Cost.of(2, 0, 0, 0, 0))));
      // Any position may stay open.
      positions.forEach(any -> all.add(Cost.of(1, 0, 0, 0, 0)));
      costs.add(all);
    }
    List<Integer> best = Assignment.best(costs);
    List<Place> places = new ArrayList<>();
    for (int at = 0; at < positions.size(); at++) {
      int column = best.get(at);
      places.add(
          new Place(
              positions.get(at),
              column < magnets.size() ? options.get(at).get(column) : Optional.empty()));
    }
    return new Matching(places);
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

  private static Optional<Placed> placed(Position position, AcceptedMagnet magnet) {
    if (!sameKind(position.row(), magnet)) {
      return Optional.empty();
    }
    FluxDensity target = position.level().target();
    FluxDensity reading = FluxDensity.ofMicroTesla(magnet.fieldMicroTesla());
    FluxDensity uncertainty = new FluxDensity(magnet.uncertaintyNanoTesla() * 1e-9);
    Judgement judgement =
        Acceptance.guarded(target, position.level().tolerance()).judge(reading, uncertainty);
    Remedy remedy =
        switch (judgement) {
          case ACCEPT -> Remedy.FITS;
          case ABOVE -> Remedy.KNOCK_DOWN;
          case BELOW -> Remedy.CHARGE;
        };
    double deviation = (reading.tesla() - target.tesla()) / target.tesla();
    return Optional.of(new Placed(magnet, deviation, remedy));
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

  private static Cost cost(Placed placed) {
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
   */
  public record SetFigures(String set, int positions, int fitting, double spread, double worst) {

    private static SetFigures of(String set, List<Place> places) {
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
          Math.max(Math.abs(least), Math.abs(most)));
    }

    /** Whether every position has a magnet that fits as it is. */
    public boolean complete() {
      return fitting == positions;
    }
  }

  /** One for each set, in the order of the plan. */
  public List<SetFigures> sets() {
    Map<String, List<Place>> bySet = new LinkedHashMap<>();
    places.forEach(
        place ->
            bySet.computeIfAbsent(place.position().set(), set -> new ArrayList<>()).add(place));
    return bySet.entrySet().stream()
        .map(each -> SetFigures.of(each.getKey(), each.getValue()))
        .toList();
  }

  /** Whether every position of every set is filled as it is. */
  public boolean complete() {
    return sets().stream().allMatch(SetFigures::complete);
  }
}
