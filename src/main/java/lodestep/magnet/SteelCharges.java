package lodestep.magnet;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/** Surface charges of bodies of steel that bring each to one potential. One thread. */
final class SteelCharges {

  private final List<Part> parts = new ArrayList<>();
  private final int count;
  private final int groups;

  /** A body, its pieces, and where they stand among all. */
  private record Part(SteelBody body, List<SteelPatch> patches, int group, int first) {}

  /** A body's pieces with their charges. */
  record Body(SteelBody body, List<SteelPatch> patches, List<Double> charges) {}

  /**
   * @param touching bodies that touch one another in one list
   */
  SteelCharges(List<List<SteelBody>> touching) {
    int first = 0;
    for (int group = 0; group < touching.size(); group++) {
      for (SteelBody body : touching.get(group)) {
        parts.add(new Part(body, body.patches(), group, first));
        first += body.patches().size();
      }
    }
    this.count = first;
    this.groups = touching.size();
  }

  /** Means of a potential over each piece. */
  double[] means(ToDoubleFunction<Place> potential) {
    return parts.stream()
        .flatMap(part -> part.patches().stream())
        .mapToDouble(patch -> patch.places().stream().mapToDouble(potential).average().orElse(0))
        .toArray();
  }

  /**
   * The charges that together with this potential bring each group to one potential, with no net
   * charge.
   */
  double[] undoing(double[] given) {
    RealMatrix matrix = MatrixUtils.createRealMatrix(count + groups, count + groups);
    ArrayRealVector right = new ArrayRealVector(count + groups);
    Map<List<Long>, double[][]> known = new HashMap<>();
    for (Part to : parts) {
      for (Part from : parts) {
        matrix.setSubMatrix(block(known, from, to), to.first(), from.first());
      }
      for (int at = to.first(); at < to.first() + to.patches().size(); at++) {
        matrix.setEntry(at, count + to.group(), -1);
        matrix.setEntry(count + to.group(), at, 1);
        right.setEntry(at, -given[at]);
      }
    }
    return new LUDecomposition(matrix).getSolver().solve(right).getSubVector(0, count).toArray();
  }

  /** Two posts that are alike act on one another by how far apart they are, and by no more. */
  private static double[][] block(Map<List<Long>, double[][]> known, Part from, Part to) {
    if (from.body() instanceof SteelBody.Post one
        && to.body() instanceof SteelBody.Post two
        && one.radiusMetres() == two.radiusMetres()
        && one.lengthMetres() == two.lengthMetres()
        && one.foot().zMetres() == two.foot().zMetres()) {
      List<Long> apart =
          List.of(
              nanometres(one.foot().xMetres() - two.foot().xMetres()),
              nanometres(one.foot().yMetres() - two.foot().yMetres()),
              nanometres(one.foot().zMetres()),
              nanometres(one.radiusMetres()),
              nanometres(one.lengthMetres()));
      return known.computeIfAbsent(apart, key -> block(from, to));
    }
    return block(from, to);
  }

  private static long nanometres(double metres) {
    return Math.round(Math.abs(metres) * 1e9);
  }

  private static double[][] block(Part from, Part to) {
    double[][] block = new double[to.patches().size()][from.patches().size()];
    for (int row = 0; row < block.length; row++) {
      for (int column = 0; column < block[row].length; column++) {
        block[row][column] = from.patches().get(column).over(to.patches().get(row));
      }
    }
    return block;
  }

  /** These charges, body by body. */
  List<Body> bodies(double[] charges) {
    List<Body> bodies = new ArrayList<>();
    for (Part part : parts) {
      int end = part.first() + part.patches().size();
      List<Double> own = Arrays.stream(charges, part.first(), end).boxed().toList();
      bodies.add(new Body(part.body(), part.patches(), own));
    }
    return bodies;
  }
}
