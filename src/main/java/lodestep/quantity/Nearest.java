package lodestep.quantity;

import java.util.Collection;
import java.util.List;

/** Finds the names a person probably meant. Pure. */
public final class Nearest {

  private static final int HINTS_MAX = 3;

  private Nearest() {}

  /**
   * The names that differ least from what was written, all equally near, in the collection's order;
   * none when none is near: at most a third of the letters may differ.
   */
  public static List<String> names(String written, Collection<String> names) {
    int allowed = Math.max(1, written.length() / 3);
    int least = names.stream().mapToInt(name -> distance(written, name)).min().orElse(0);
    return least > allowed
        ? List.of()
        : names.stream().filter(name -> distance(written, name) == least).toList();
  }

  /** "; did you mean 'name'?" for the end of a sentence, or nothing when no name is near. */
  public static String hint(String written, Collection<String> names) {
    return hint(names(written, names));
  }

  /**
   * The same for names found already. More than three are no hint: what was written is as far from
   * all of them, and guessing one would be worse than saying nothing.
   *
   * @param near equally near; may be empty
   */
  public static String hint(List<String> near) {
    return near.isEmpty() || near.size() > HINTS_MAX
        ? ""
        : "; did you mean '" + String.join("' or '", near) + "'?";
  }

  /**
   * Number of letters to insert, remove, change or swap with their neighbour: the optimal string
   * alignment distance (Damerau 1964, restricted as usual to one edit per place).
   */
  public static int distance(String left, String right) {
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
