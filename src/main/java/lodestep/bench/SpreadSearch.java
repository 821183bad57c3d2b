package lodestep.bench;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.PriorityQueue;
import lodestep.bench.Assignment.Cost;
import lodestep.bench.Matching.Placed;
import lodestep.bench.Matching.Position;
import lodestep.bench.Matching.Remedy;

/**
 * The best way to put magnets to positions where the magnets of a set may not differ by more than
 * its spread. One thread.
 *
 * <p>Branch and bound (A. H. Land, A. G. Doig, Econometrica 28, 497, 1960; from memory). With no
 * regard to spreads the best way is an {@link Assignment}, whose cost none can undercut. Where the
 * weakest magnet of a set in it, at the deviation d, and the strongest are too far apart, either
 * all of the set lie at d + spread at the most, or all lie above d: both are looked at, the cheaper
 * first. A magnet that is left out so has to be dialed again, and a cost only rises by that, so the
 * first way that keeps every spread is the best one.
 */
final class SpreadSearch {

  /** A few dozen are the rule; more than this is no order of a shop, but takes seconds still. */
  private static final int LOOKED_AT_MAX = 400;

  private final List<Position> positions;
  private final List<List<Optional<Placed>>> options;
  private final Map<String, Double> spreads;

  /**
   * @param options for each position, what each magnet would be there by itself
   * @param spreads of the sets that have one
   */
  SpreadSearch(
      List<Position> positions, List<List<Optional<Placed>>> options, Map<String, Double> spreads) {
    this.positions = positions;
    this.options = options;
    this.spreads = spreads;
  }

  /**
   * What was found.
   *
   * @param placed for each position; empty where it stays open
   * @param proven whether nothing is better
   */
  record Found(List<Optional<Placed>> placed, boolean proven) {}

  /** Deviations that fit: above the one, up to the other. */
  private record Window(double above, double upTo) {

    static final Window OPEN = new Window(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);

    Placed judged(Placed placed) {
      if (placed.remedy() != Remedy.FITS) {
        return placed;
      }
      return placed.deviation() > upTo
          ? placed.needing(Remedy.KNOCK_DOWN)
          : placed.deviation() > above ? placed : placed.needing(Remedy.CHARGE);
    }
  }

  /** A way, the best one for its windows. */
  private record Way(Map<String, Window> windows, List<Optional<Placed>> placed, Cost cost) {}

  Found best() {
    PriorityQueue<Way> ways = new PriorityQueue<>(Comparator.comparing(Way::cost));
    ways.add(way(Map.of()));
    for (int looked = 0; looked < LOOKED_AT_MAX; looked++) {
      Way cheapest = ways.remove();
      Optional<String> wide = tooWide(cheapest);
      if (wide.isEmpty()) {
        return new Found(cheapest.placed(), true);
      }
      ways.add(way(narrowed(cheapest, wide.get(), true)));
      ways.add(way(narrowed(cheapest, wide.get(), false)));
    }
    return new Found(down(ways.remove()).placed(), false);
  }

  /** Keeps every spread by knocking down what is too strong for its set. */
  private Way down(Way from) {
    Way way = from;
    Optional<String> wide = tooWide(way);
    while (wide.isPresent()) {
      way = way(narrowed(way, wide.get(), true));
      wide = tooWide(way);
    }
    return way;
  }

  private Map<String, Window> narrowed(Way way, String set, boolean lower) {
    Map<String, Window> windows = new HashMap<>(way.windows());
    Window window = windows.getOrDefault(set, Window.OPEN);
    double least = fitting(way, set).stream().min(Comparator.naturalOrder()).orElseThrow();
    double most = least + spreads.getOrDefault(set, 0.0);
    windows.put(
        set,
        lower
            ? new Window(window.above(), Math.min(window.upTo(), most))
            : new Window(least, window.upTo()));
    return windows;
  }

  /** A set whose magnets lie too far apart; empty if there is none. */
  private Optional<String> tooWide(Way way) {
    return spreads.keySet().stream().sorted().filter(set -> isTooWide(way, set)).findFirst();
  }

  private boolean isTooWide(Way way, String set) {
    List<Double> fitting = fitting(way, set);
    return !fitting.isEmpty()
        && fitting.stream().max(Comparator.naturalOrder()).orElseThrow()
            > fitting.stream().min(Comparator.naturalOrder()).orElseThrow()
                + spreads.getOrDefault(set, 0.0);
  }

  private List<Double> fitting(Way way, String set) {
    List<Double> deviations = new ArrayList<>();
    for (int at = 0; at < positions.size(); at++) {
      if (positions.get(at).set().equals(set)) {
        way.placed()
            .get(at)
            .filter(placed -> placed.remedy() == Remedy.FITS)
            .ifPresent(placed -> deviations.add(placed.deviation()));
      }
    }
    return deviations;
  }

  private Way way(Map<String, Window> windows) {
    List<List<Cost>> costs = new ArrayList<>();
    for (int at = 0; at < positions.size(); at++) {
      List<Cost> all = new ArrayList<>();
      for (Optional<Placed> option : options.get(at)) {
        Optional<Placed> judged = judged(windows, at, option);
        all.add(judged.map(Matching::cost).orElse(Cost.of(2, 0, 0, 0, 0)));
      }
      // Any position may stay open.
      positions.forEach(any -> all.add(Cost.of(1, 0, 0, 0, 0)));
      costs.add(all);
    }
    List<Integer> columns = Assignment.best(costs);
    List<Optional<Placed>> placed = new ArrayList<>();
    Cost sum = Cost.NONE;
    for (int at = 0; at < positions.size(); at++) {
      int column = columns.get(at);
      sum = sum.plus(costs.get(at).get(column));
      placed.add(
          column < options.get(at).size()
              ? judged(windows, at, options.get(at).get(column))
              : Optional.empty());
    }
    return new Way(windows, placed, sum);
  }

  private Optional<Placed> judged(
      Map<String, Window> windows, int position, Optional<Placed> option) {
    Window window = windows.getOrDefault(positions.get(position).set(), Window.OPEN);
    return option.map(window::judged);
  }
}
