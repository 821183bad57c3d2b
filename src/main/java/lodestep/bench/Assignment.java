package lodestep.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;

/**
 * The best assignment of rows to columns, each row to one column and no column twice: of all there
 * are, one whose costs add up to the least. Pure.
 *
 * <p>Source: the Hungarian method with shortest augmenting paths (Kuhn 1955; Jonker and Volgenant
 * 1987), from memory. It adds, subtracts and compares costs only, so a cost may have several ranks.
 */
final class Assignment {

  private final List<List<Cost>> costs;
  private final int columns;
  private final Cost[] ofRow;
  private final Cost[] ofColumn;

  /** Row of each column, from 1; 0 while free. */
  private final int[] rowOf;

  private Assignment(List<List<Cost>> costs) {
    this.costs = costs;
    this.columns = costs.get(0).size();
    this.ofRow = filled(costs.size() + 1, Cost.NONE);
    this.ofColumn = filled(columns + 1, Cost.NONE);
    this.rowOf = new int[columns + 1];
  }

  private static Cost[] filled(int length, Cost cost) {
    Cost[] all = new Cost[length];
    Arrays.fill(all, cost);
    return all;
  }

  /**
   * A cost of several ranks: a later one counts only where all before it are equal.
   *
   * @param ranks first the one that counts most; sums must stay below 2⁶³
   */
  record Cost(List<Long> ranks) implements Comparable<Cost> {

    /** Nothing at all, with as many ranks as any needs. */
    static final Cost NONE = of(0, 0, 0, 0, 0);

    /** More than any sum of real costs. */
    static final Cost MOST = of(Long.MAX_VALUE, 0, 0, 0, 0);

    Cost {
      ranks = List.copyOf(ranks);
    }

    static Cost of(long first, long second, long third, long fourth, long fifth) {
      return new Cost(List.of(first, second, third, fourth, fifth));
    }

    Cost plus(Cost other) {
      return combined(other, 1);
    }

    Cost minus(Cost other) {
      return combined(other, -1);
    }

    private Cost combined(Cost other, long sign) {
      return new Cost(
          IntStream.range(0, ranks.size())
              .mapToObj(at -> ranks.get(at) + sign * other.ranks.get(at))
              .toList());
    }

    @Override
    public int compareTo(Cost other) {
      for (int at = 0; at < ranks.size(); at++) {
        int order = Long.compare(ranks.get(at), other.ranks.get(at));
        if (order != 0) {
          return order;
        }
      }
      return 0;
    }
  }

  /**
   * The column of each row.
   *
   * @param costs a list for each row, all of one length, which is at least the number of rows
   * @throws IllegalArgumentException if there are fewer columns than rows
   */
  static List<Integer> best(List<List<Cost>> costs) {
    if (costs.isEmpty()) {
      return List.of();
    }
    Assignment work = new Assignment(costs);
    if (work.columns < costs.size()) {
      throw new IllegalArgumentException(
          costs.size() + " rows cannot be assigned to " + work.columns + " columns");
    }
    for (int row = 1; row <= costs.size(); row++) {
      work.take(row);
    }
    Integer[] found = new Integer[costs.size()];
    for (int column = 1; column <= work.columns; column++) {
      if (work.rowOf[column] > 0) {
        found[work.rowOf[column] - 1] = column - 1;
      }
    }
    return new ArrayList<>(Arrays.asList(found));
  }

  /** Takes a row in, moving earlier ones along the cheapest path to a free column. */
  private void take(int row) {
    int[] before = new int[columns + 1];
    Cost[] least = filled(columns + 1, Cost.MOST);
    boolean[] reached = new boolean[columns + 1];
    rowOf[0] = row;
    int at = 0;
    do {
      reached[at] = true;
      at = step(at, before, least, reached);
    } while (rowOf[at] != 0);
    while (at != 0) {
      rowOf[at] = rowOf[before[at]];
      at = before[at];
    }
  }

  /** One step of the path: the column that is reached next at the least cost. */
  private int step(int at, int[] before, Cost[] least, boolean[] reached) {
    int row = rowOf[at];
    int next = 0;
    Cost most = Cost.MOST;
    for (int column = 1; column <= columns; column++) {
      if (reached[column]) {
        continue;
      }
      Cost cost = costs.get(row - 1).get(column - 1).minus(ofRow[row]).minus(ofColumn[column]);
      if (cost.compareTo(least[column]) < 0) {
        least[column] = cost;
        before[column] = at;
      }
      if (least[column].compareTo(most) < 0) {
        most = least[column];
        next = column;
      }
    }
    for (int column = 0; column <= columns; column++) {
      if (reached[column]) {
        ofRow[rowOf[column]] = ofRow[rowOf[column]].plus(most);
        ofColumn[column] = ofColumn[column].minus(most);
      } else {
        least[column] = least[column].minus(most);
      }
    }
    return next;
  }
}
