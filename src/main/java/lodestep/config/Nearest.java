package lodestep.config;

import java.util.Collection;
import java.util.Comparator;
import java.util.Optional;

/** Finds the name a person probably meant. Pure. */
public final class Nearest {

  private Nearest() {}

  /**
   * The name that differs least from what was written, or nothing when none is near: at most a
   * third of the letters may differ. Of equally near names the first in the collection's order.
   */
  public static Optional<String> name(String written, Collection<String> names) {
    int allowed = Math.max(1, written.length() / 3);
    return names.stream()
        .filter(name -> distance(written, name) <= allowed)
        .min(Comparator.comparingInt(name -> distance(written, name)));
  }

  /** "; did you mean 'name'?" for the end of a sentence, or nothing when no name is near. */
  public static String hint(String written, Collection<String> names) {
    return name(written, names).map(name -> "; did you mean '" + name + "'?").orElse("");
  }

  /**
   * Number of letters to insert, remove, change or swap with their neighbour: the optimal string
   * alignment distance (Damerau 1964, restricted as usual to one edit per place).
   */
  static int distance(String left, String right) {
    int[][] cost = new int[left.length() + 1][right.length() + 1];
    for (int row = 0; row <= left.length(); row++) {
      for (int column = 0; column <= right.length(); column++) {
        cost[row][column] = cell(cost, left, right, row, column);
      }
    }
    return cost[left.length()][right.length()];
  }

  private static int cell(int[][] cost, String left, String right, int row, int column) {
    if (row == 0 || column == 0) {
      return row + column;
    }
    int change = left.charAt(row - 1) == right.charAt(column - 1) ? 0 : 1;
    int least =
        Math.min(
            Math.min(cost[row - 1][column], cost[row][column - 1]) + 1,
            cost[row - 1][column - 1] + change);
    boolean swapped =
        row > 1
            && column > 1
            && left.charAt(row - 1) == right.charAt(column - 2)
            && left.charAt(row - 2) == right.charAt(column - 1);
    return swapped ? Math.min(least, cost[row - 2][column - 2] + 1) : least;
  }
}
