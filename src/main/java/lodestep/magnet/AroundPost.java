package lodestep.magnet;

import java.util.ArrayList;
import java.util.List;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.DecompositionSolver;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/**
 * How a pole piece's charge crowds on the side that faces a bar: the part that is uneven around it,
 * by its Fourier components. It is seen by the bar close by and by nothing else. Any thread,
 * immutable.
 *
 * <p>On a round post each component is a problem of its own. The kernel of rings whose charge goes
 * like cos m&psi; is that of even rings with the cosine under the integral.
 */
final class AroundPost {

  /** Of a bar that nearly touches the post, components this high are a hundredth of the first. */
  private static final int COMPONENTS = 16;

  private static final int SAMPLES = 64;
  private static final int KERNEL_STEPS = 240;

  private final List<SteelPatch.Ring> rings;
  private final List<DecompositionSolver> solvers = new ArrayList<>();

  /** Of this post, and of all like it. */
  AroundPost(SteelBody.Post post) {
    rings =
        post.patches().stream()
            .map(SteelPatch.Ring.class::cast)
            .filter(ring -> ring.radius() == post.radiusMetres())
            .toList();
    List<RealMatrix> kernels = new ArrayList<>();
    for (int m = 1; m <= COMPONENTS; m++) {
      kernels.add(MatrixUtils.createRealMatrix(rings.size(), rings.size()));
    }
    for (int to = 0; to < rings.size(); to++) {
      for (int from = 0; from <= to; from++) {
        double away =
            Math.abs(rings.get(to).centre().zMetres() - rings.get(from).centre().zMetres());
        double apart = to == from ? SteelPatch.Ring.OWN_DISTANCE * rings.get(to).width() : away;
        double[] values = kernel(post.radiusMetres(), apart);
        for (int m = 0; m < COMPONENTS; m++) {
          kernels.get(m).setEntry(to, from, values[m]);
          kernels.get(m).setEntry(from, to, values[m]);
        }
      }
    }
    kernels.forEach(kernel -> solvers.add(new LUDecomposition(kernel).getSolver()));
  }

  /** Mean of cos(m &psi;)/(4 &pi; r) around a ring, for m from 1; finer where r is smallest. */
  private static double[] kernel(double radius, double apart) {
    double[] sums = new double[COMPONENTS];
    for (int step = 0; step < KERNEL_STEPS; step++) {
      double at = (step + 0.5) / KERNEL_STEPS;
      double angle = Math.PI * at * at * at;
      double weight = 3 * at * at / KERNEL_STEPS;
      double chord = 2 * radius * Math.sin(0.5 * angle);
      double part = weight / (4 * Math.PI * Math.hypot(chord, apart));
      for (int m = 1; m <= COMPONENTS; m++) {
        sums[m - 1] += part * Math.cos(m * angle);
      }
    }
    return sums;
  }

  /**
   * Sum of charge times given potential, for the charges that undo what is uneven of it around the
   * post.
   *
   * @param byX by how far this post stands further along x than the one this was made of; likewise
   *     y
   */
  double chargeTimes(List<PlacedBar> bars, double byX, double byY) {
    double[][] given = new double[COMPONENTS][rings.size()];
    for (int ring = 0; ring < rings.size(); ring++) {
      List<Place> places = rings.get(ring).around(SAMPLES);
      for (int at = 0; at < SAMPLES; at++) {
        Place place = places.get(at).moved(byX, byY, 0);
        double potential = bars.stream().mapToDouble(bar -> bar.potentialAt(place)).sum();
        double angle = 2 * Math.PI * (at + 0.5) / SAMPLES;
        for (int m = 1; m <= COMPONENTS; m++) {
          given[m - 1][ring] += 2.0 / SAMPLES * potential * Math.cos(m * angle);
        }
      }
    }
    double sum = 0;
    for (int m = 0; m < COMPONENTS; m++) {
      double[] charges = solvers.get(m).solve(new ArrayRealVector(given[m], false)).toArray();
      for (int ring = 0; ring < rings.size(); ring++) {
        sum -= 0.5 * charges[ring] * given[m][ring];
      }
    }
    return sum;
  }
}
