package lodestep.magnet;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import lodestep.quantity.FieldStrength;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * A magnet whose polarisation is resolved along and across it, standing by itself. Any thread,
 * immutable.
 *
 * <p>Each cell follows its alloy's loop in the field that all cells make in it; the balance is
 * found by Newton steps, the applied field being led along so that each begins near. A moment
 * method: uniform magnetisation over-reads an alnico pole face by a fifth to a half, since a real
 * magnet is weaker near its faces, where its own field works against it.
 *
 * <p>Takes the alloy to answer across the axis of charge in proportion to the field, with {@link
 * #SUSCEPTIBILITY_ACROSS}: nothing has been published of it for alnico. A quarter of it and twice
 * it move the field a millimetre off the face by about 6 and 4 per cent.
 */
public final class ResolvedMagnet {

  /** Assumed; see the type. */
  static final double SUSCEPTIBILITY_ACROSS = 3;

  private static final BarCells.Grid BAR_GRID = new BarCells.Grid(3, 2, 4);

  private static final int STEPS_MAX = 60;
  private static final double HALVINGS_MAX = 30;

  /** Relative to the loop's centre. */
  private static final double FIELD_ACCURACY = 1e-9;

  /** Steps in which the applied field is led down from saturation. */
  private static final int LED_IN = 8;

  /** Net field above the centre that saturates any loop, in widths. */
  private static final double SATURATING_WIDTHS = 12;

  private final Cells cells;
  private final Hysteresis loop;

  ResolvedMagnet(Cells cells, Hysteresis loop) {
    this.cells = cells;
    this.loop = loop;
  }

  /** A magnet of this shape and loop, in as many cells as bring the field within 2 per cent. */
  public static ResolvedMagnet of(Shape shape, Hysteresis loop) {
    Cells cells =
        shape instanceof Shape.Rod rod
            ? new RodCells(rod, 4, 16, SUSCEPTIBILITY_ACROSS)
            : new BarCells((Shape.Bar) shape, BAR_GRID, SUSCEPTIBILITY_ACROSS);
    return new ResolvedMagnet(cells, loop);
  }

  /** Polarisation of each cell, and what it makes around the magnet. */
  public final class Resolved implements FluxSource {
    private final double[] tesla;
    private final FluxSource outside;

    private Resolved(double[] tesla) {
      this.tesla = tesla;
      this.outside = cells.outside(tesla);
    }

    /** Mean over the volume, in tesla. */
    public double meanTesla() {
      return IntStream.range(0, tesla.length)
          .mapToDouble(i -> cells.volumePart(i) * tesla[i])
          .sum();
    }

    /** {@inheritDoc} Outside the magnet alone. */
    @Override
    public Flux at(Place place) {
      return outside.at(place);
    }
  }

  /** What a cell's polarisation does along one stretch of the loop. */
  private interface Curve {
    double tesla(int cell, double net);

    double slope(int cell, double net);
  }

  /** Fully charged along the axis, and left alone. */
  public Resolved charged() {
    return knockedDown(new FieldStrength(0));
  }

  /**
   * Fully charged, then a pulse against it, of the same strength everywhere. The largest of several
   * growing ones leaves the same behind as alone, as each wipes out those before it.
   *
   * @param peak of the reverse field, without sign
   * @throws IllegalArgumentException if it is below zero
   */
  public Resolved knockedDown(FieldStrength peak) {
    return knockedDown(List.of(peak)).get(0);
  }

  /**
   * Fully charged, then one of these pulses against it; each by itself, and quicker than asked for
   * one by one.
   *
   * @param peaks of the reverse field, without sign, rising
   * @return what each leaves, in the same order
   * @throws IllegalArgumentException if one is below zero
   */
  public List<Resolved> knockedDown(List<FieldStrength> peaks) {
    Curve falling = new Falling();
    double saturating =
        loop.centreAmperesPerMetre()
            + SATURATING_WIDTHS * loop.widthAmperesPerMetre()
            + loop.saturationTesla() / Mu0.TESLA_PER_AMPERE_PER_METRE;
    double[] net = new double[cells.count()];
    Arrays.fill(net, saturating);
    net = led(falling, net, saturating, 0, LED_IN);
    double applied = 0;
    List<Resolved> left = new ArrayList<>();
    for (FieldStrength peak : peaks) {
      double reverse = -peak.amperesPerMetre();
      if (!(reverse <= applied)) {
        throw new IllegalArgumentException(
            "a knock-down's peaks are given without sign, rising: " + peak.amperesPerMetre());
      }
      net = led(falling, net, applied, reverse, strides(reverse - applied));
      applied = reverse;
      Curve rising = new Rising(net, polarisation(falling, net));
      left.add(new Resolved(polarisation(rising, led(rising, net, reverse, 0, strides(reverse)))));
    }
    return left;
  }

  /** The descending branch from saturation. */
  private final class Falling implements Curve {
    @Override
    public double tesla(int cell, double net) {
      return loop.descendingTesla(net);
    }

    @Override
    public double slope(int cell, double net) {
      double tanh = Math.tanh((net + loop.centreAmperesPerMetre()) / loop.widthAmperesPerMetre());
      return loop.saturationTesla() * (1 - tanh * tanh) / loop.widthAmperesPerMetre()
          + reversibleSlope();
    }
  }

  /** The branch that rises from where each cell turned. */
  private final class Rising implements Curve {
    private final double[] turnedAt;
    private final double[] turnedTesla;

    Rising(double[] turnedAt, double[] turnedTesla) {
      this.turnedAt = turnedAt;
      this.turnedTesla = turnedTesla;
    }

    @Override
    public double tesla(int cell, double net) {
      return turnedTesla[cell]
          + loop.everettTesla(net, turnedAt[cell])
          + loop.reversibleTesla(net)
          - loop.reversibleTesla(turnedAt[cell]);
    }

    @Override
    public double slope(int cell, double net) {
      double up = loop.factor(net);
      double down = loop.factor(-net);
      double change =
          loop.factorSlope(up) * loop.factor(-turnedAt[cell])
              + loop.factorSlope(down) * loop.factor(turnedAt[cell]);
      return 2 * loop.saturationTesla() * change + reversibleSlope();
    }
  }

  private double reversibleSlope() {
    return Mu0.TESLA_PER_AMPERE_PER_METRE * loop.susceptibility();
  }

  private double[] polarisation(Curve curve, double[] net) {
    return IntStream.range(0, net.length).mapToDouble(i -> curve.tesla(i, net[i])).toArray();
  }

  /** The applied field goes from one value to the other in steps from which Newton finds on. */
  private double[] led(
      Curve curve, double[] from, double fromApplied, double toApplied, int steps) {
    double[] net = from;
    for (int step = 1; step <= steps; step++) {
      double applied = fromApplied + (toApplied - fromApplied) * step / steps;
      net = balanced(curve, net, applied);
    }
    return net;
  }

  /** Steps of no more than a coercivity: from there the next balance is found in a few turns. */
  private int strides(double change) {
    return (int) Math.ceil(Math.abs(change) / loop.centreAmperesPerMetre());
  }

  /** The net fields at which each cell's field is the applied one and what all cells make. */
  private double[] balanced(Curve curve, double[] start, double applied) {
    double[] net = start.clone();
    double accuracy = FIELD_ACCURACY * loop.centreAmperesPerMetre();
    RealVector error = error(curve, net, applied);
    for (int step = 0; step < STEPS_MAX; step++) {
      RealVector move =
          new LUDecomposition(jacobian(curve, net)).getSolver().solve(error).mapMultiply(-1);
      double part = 1;
      double[] tried = moved(net, move, part);
      RealVector left = error(curve, tried, applied);
      for (int halving = 0; halving < HALVINGS_MAX && left.getNorm() > error.getNorm(); halving++) {
        part *= 0.5;
        tried = moved(net, move, part);
        left = error(curve, tried, applied);
      }
      net = tried;
      error = left;
      if (move.getLInfNorm() <= accuracy) {
        return net;
      }
    }
    throw new IllegalStateException("no balance found at " + applied + " A/m for " + loop);
  }

  private static double[] moved(double[] net, RealVector move, double part) {
    return IntStream.range(0, net.length)
        .mapToDouble(i -> net[i] + part * move.getEntry(i))
        .toArray();
  }

  private RealVector error(Curve curve, double[] net, double applied) {
    double[] made = cells.field().operate(polarisation(curve, net));
    RealVector error = new ArrayRealVector(net.length);
    for (int cell = 0; cell < net.length; cell++) {
      double own = made[cell] / Mu0.TESLA_PER_AMPERE_PER_METRE;
      error.setEntry(cell, net[cell] - applied - own);
    }
    return error;
  }

  private RealMatrix jacobian(Curve curve, double[] net) {
    RealMatrix jacobian = MatrixUtils.createRealIdentityMatrix(net.length);
    for (int of = 0; of < net.length; of++) {
      double slope = curve.slope(of, net[of]) / Mu0.TESLA_PER_AMPERE_PER_METRE;
      for (int cell = 0; cell < net.length; cell++) {
        jacobian.addToEntry(cell, of, -cells.field().getEntry(cell, of) * slope);
      }
    }
    return jacobian;
  }
}
