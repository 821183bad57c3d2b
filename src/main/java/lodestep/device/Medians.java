package lodestep.device;

import java.util.List;

/** The middle of some figures. Pure. */
final class Medians {

  private Medians() {}

  /**
   * The middle one, or the mean of the two in the middle.
   *
   * @param figures at least one, in any order
   */
  static double of(List<Double> figures) {
    List<Double> sorted = figures.stream().sorted().toList();
    int half = sorted.size() / 2;
    return sorted.size() % 2 == 1
        ? sorted.get(half)
        : (sorted.get(half - 1) + sorted.get(half)) / 2;
  }
}
