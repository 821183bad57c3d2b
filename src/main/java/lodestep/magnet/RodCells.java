package lodestep.magnet;

import java.util.ArrayList;
import java.util.List;
import lodestep.quantity.Length;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * A rod, or a ring, cut into rings. Along the axis each ring is evenly polarised; across, its
 * polarisation falls with the distance from the axis, so that charge stands on its mantles alone; a
 * rod's core has none. Any thread, immutable.
 */
final class RodCells implements Cells {

  /** Points of the Gauss rule in a cell, along and across: ±1/√3 of its half sizes. */
  private static final double[] POINTS = {-1 / Math.sqrt(3), 1 / Math.sqrt(3)};

  private record Ring(double inner, double outer, double low, double high) {

    double middle() {
      return 0.5 * (low + high);
    }

    double half() {
      return 0.5 * (high - low);
    }

    double volume() {
      return (outer * outer - inner * inner) * (high - low);
    }

    /** B of one tesla along the axis. */
    FluxSource along() {
      FluxSource whole = new Cylinder(outer, half()).raised(middle());
      return inner == 0
          ? whole
          : whole.plus(new Cylinder(inner, half()).raised(middle()).times(-1));
    }

    /** µ0 H of a polarisation across of one tesla at the outer mantle. */
    FluxSource across() {
      FluxSource mantle = new ChargedShell(outer, half()).raised(middle());
      FluxSource bore = new ChargedShell(inner, half()).raised(middle());
      return mantle.plus(bore.times(-outer / inner));
    }

    /** Places of equal weight, over which a mean is taken. */
    List<Place> samples() {
      List<Place> places = new ArrayList<>();
      double middleSquare = 0.5 * (outer * outer + inner * inner);
      double halfSquare = 0.5 * (outer * outer - inner * inner);
      for (double u : POINTS) {
        for (double v : POINTS) {
          places.add(new Place(Math.sqrt(middleSquare + u * halfSquare), 0, middle() + v * half()));
        }
      }
      return places;
    }
  }

  private final List<Ring> rings;
  private final RealMatrix field;
  private final RealMatrix answer;
  private final RealMatrix toApplied;
  private final double volume;

  /**
   * @param rings cells from the axis to the mantle, &ge; 2
   * @param layers cells along the rod, finer towards its ends, &ge; 2
   * @param susceptibilityAcross &ge; 0
   */
  RodCells(Shape.Rod rod, int rings, int layers, double susceptibilityAcross) {
    this(cut(0, rod.diameter(), rod.length(), rings, layers), susceptibilityAcross);
  }

  /**
   * @param rings cells through the wall, &ge; 2
   * @param layers cells along the ring, finer towards its ends, &ge; 2
   * @param susceptibilityAcross &ge; 0
   */
  RodCells(Shape.Ring ring, int rings, int layers, double susceptibilityAcross) {
    this(
        cut(ring.inside().metres(), ring.outside(), ring.length(), rings, layers),
        susceptibilityAcross);
  }

  private RodCells(List<Ring> rings, double susceptibilityAcross) {
    this.rings = rings;
    this.volume = this.rings.stream().mapToDouble(Ring::volume).sum();
    int count = this.rings.size();
    RealMatrix alongOfAlong = MatrixUtils.createRealMatrix(count, count);
    RealMatrix acrossOfAlong = MatrixUtils.createRealMatrix(count, count);
    RealMatrix alongOfAcross = MatrixUtils.createRealMatrix(count, count);
    RealMatrix acrossOfAcross = MatrixUtils.createRealMatrix(count, count);
    for (int source = 0; source < count; source++) {
      Ring of = this.rings.get(source);
      for (int cell = 0; cell < count; cell++) {
        Ring in = this.rings.get(cell);
        Flux along = mean(of.along(), in);
        double own = source == cell ? 1 : 0;
        alongOfAlong.setEntry(cell, source, along.zTesla() - own);
        acrossOfAlong.setEntry(cell, source, along.xTesla());
        if (of.inner() > 0) {
          Flux across = mean(of.across(), in);
          alongOfAcross.setEntry(cell, source, across.zTesla());
          acrossOfAcross.setEntry(cell, source, across.xTesla());
        }
      }
    }
    // Polarisation across at each outer mantle: P = S (A Jz + C P), S from the mean to the mantle.
    RealMatrix scale = scale(susceptibilityAcross);
    RealMatrix unity = MatrixUtils.createRealIdentityMatrix(count);
    RealMatrix closed = unity.subtract(scale.multiply(acrossOfAcross));
    RealMatrix answering = new LUDecomposition(closed).getSolver().solve(scale);
    this.answer = answering.multiply(acrossOfAlong);
    this.field = alongOfAlong.add(alongOfAcross.multiply(answer));
    this.toApplied = alongOfAcross.multiply(answering);
  }

  private RealMatrix scale(double susceptibility) {
    RealMatrix scale = MatrixUtils.createRealMatrix(rings.size(), rings.size());
    for (int cell = 0; cell < rings.size(); cell++) {
      Ring ring = rings.get(cell);
      // The mean over the area of one tesla at the outer mantle that falls as one by the radius.
      double mean = 2 * ring.outer() / (ring.outer() + ring.inner());
      scale.setEntry(cell, cell, ring.inner() > 0 ? susceptibility / mean : 0);
    }
    return scale;
  }

  private static List<Ring> cut(double hole, Length outside, Length length, int rings, int layers) {
    double bore = 0.5 * hole;
    double wall = 0.5 * outside.metres() - bore;
    double half = 0.5 * length.metres();
    List<Ring> cut = new ArrayList<>();
    for (int layer = 0; layer < layers; layer++) {
      double low = -half * Math.cos(Math.PI * layer / layers);
      double high = -half * Math.cos(Math.PI * (layer + 1) / layers);
      for (int ring = 0; ring < rings; ring++) {
        double inner = bore + wall * ring / rings;
        cut.add(new Ring(inner, bore + wall * (ring + 1) / rings, low, high));
      }
    }
    return cut;
  }

  private static Flux mean(FluxSource source, Ring in) {
    List<Place> samples = in.samples();
    Flux sum = Flux.NONE;
    for (Place place : samples) {
      sum = sum.plus(source.at(place));
    }
    return sum.times(1.0 / samples.size());
  }

  @Override
  public double volumePart(int cell) {
    return rings.get(cell).volume() / volume;
  }

  @Override
  public RealMatrix field() {
    return field;
  }

  /** {@inheritDoc} The source is taken as even around the axis. */
  @Override
  public double[] alongOf(FluxSource applied) {
    RealVector along = new ArrayRealVector(rings.size());
    RealVector across = new ArrayRealVector(rings.size());
    for (int cell = 0; cell < rings.size(); cell++) {
      Flux mean = mean(applied, rings.get(cell));
      along.setEntry(cell, mean.zTesla());
      across.setEntry(cell, mean.xTesla());
    }
    return along.add(toApplied.operate(across)).toArray();
  }

  @Override
  public FluxSource outside(double[] alongTesla) {
    double[] acrossTesla = answer.operate(alongTesla);
    FluxSource whole = place -> Flux.NONE;
    for (int cell = 0; cell < rings.size(); cell++) {
      Ring ring = rings.get(cell);
      whole = whole.plus(ring.along().times(alongTesla[cell]));
      whole = ring.inner() > 0 ? whole.plus(ring.across().times(acrossTesla[cell])) : whole;
    }
    return whole;
  }
}
