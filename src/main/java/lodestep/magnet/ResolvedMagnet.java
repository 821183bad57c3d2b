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

  private static final BarCells.Grid BAR_GRID = new BarCells.Grid(3, 2, 4, false);
  private static final BarCells.Grid BAR_GRID_END_TO_END = new BarCells.Grid(3, 2, 4, true);

  private static final int STEPS_MAX = 60;
  private static final double HALVINGS_MAX = 30;

  /** Relative to the loop's centre. */
  private static final double FIELD_ACCURACY = 1e-9;

  /** Steps in which the applied field is led from one value to another. */
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
    return new ResolvedMagnet(cells(shape), loop);
  }

  private static Cells cells(Shape shape) {
    if (shape instanceof Shape.Rod rod) {
      return new RodCells(rod, 4, 16, SUSCEPTIBILITY_ACROSS);
    }
    return shape instanceof Shape.Ring ring
        ? new RodCells(ring, 4, 16, SUSCEPTIBILITY_ACROSS)
        : new BarCells((Shape.Bar) shape, BAR_GRID, SUSCEPTIBILITY_ACROSS);
  }

  /**
   * The same for a field that differs between the magnet's ends. A bar takes some ten times as
   * long.
   */
  public static ResolvedMagnet forUnevenFields(Shape shape, Hysteresis loop) {
    return shape instanceof Shape.Bar bar
        ? new ResolvedMagnet(new BarCells(bar, BAR_GRID_END_TO_END, SUSCEPTIBILITY_ACROSS), loop)
        : of(shape, loop);
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
   * @throws IllegalArgumentException if one is below zero, or below the one before
   */
  public List<Resolved> knockedDown(List<FieldStrength> peaks) {
    Fields turned = alone();
    double applied = 0;
    List<Resolved> left = new ArrayList<>();
    for (FieldStrength peak : peaks) {
      double reverse = -peak.amperesPerMetre();
      if (!(reverse <= applied)) {
        throw new IllegalArgumentException(
            "a knock-down's peaks are given without sign, rising: " + peak.amperesPerMetre());
      }
      turned = led(turned, even(applied), even(reverse), strides(reverse - applied));
      applied = reverse;
      Fields back = led(turned, even(reverse), even(0), strides(reverse));
      left.add(new Resolved(polarisation(back.lowest, back.net)));
    }
    return left;
  }

  private double[] even(double applied) {
    double[] fields = new double[cells.count()];
    Arrays.fill(fields, applied);
    return fields;
  }

  /** Steps of no more than a coercivity: from there the next balance is found in a few turns. */
  private int strides(double change) {
    return (int) Math.ceil(Math.abs(change) / loop.centreAmperesPerMetre());
  }

  /**
   * Fully charged, then brought through an uneven field and out of it again, as by an opposing
   * magnet that comes and goes. What counts is the field where it was at its strongest.
   *
   * @param against outside the magnet, whose centre is the origin and whose charge points to +z;
   *     even around a rod's axis, its own mirror image across a bar's
   * @throws IllegalArgumentException if this magnet was not made {@link #forUnevenFields}
   */
  public Resolved knockedDown(FluxSource against) {
    double[] applied = cells.alongOf(against);
    for (int cell = 0; cell < applied.length; cell++) {
      applied[cell] /= Mu0.TESLA_PER_AMPERE_PER_METRE;
    }
    Fields turned = led(alone(), even(0), applied, LED_IN);
    Fields left = led(turned, applied, even(0), LED_IN);
    return new Resolved(polarisation(left.lowest, left.net));
  }

  /** Saturated, and left alone. */
  private Fields alone() {
    double saturating =
        loop.centreAmperesPerMetre()
            + SATURATING_WIDTHS * loop.widthAmperesPerMetre()
            + loop.saturationTesla() / Mu0.TESLA_PER_AMPERE_PER_METRE;
    double[] charging = even(saturating);
    return led(new Fields(charging, charging), charging, even(0), LED_IN);
  }

  /**
   * Each cell's net field, and the lowest it has been at since saturation: what it remembers. Below
   * that a cell goes down the falling branch, above it along the branch that rises from there. A
   * cell whose neighbours give way may rise a little while the applied field still grows; its going
   * back down that same branch leaves out a loop of the second order.
   */
  private static final class Fields {
    private final double[] net;
    private final double[] lowest;

    Fields(double[] net, double[] lowest) {
      this.net = net;
      this.lowest = lowest;
    }
  }

  private double tesla(double lowest, double net) {
    return net <= lowest
        ? loop.descendingTesla(net)
        : loop.descendingTesla(lowest)
            + loop.everettTesla(net, lowest)
            + loop.reversibleTesla(net)
            - loop.reversibleTesla(lowest);
  }

  /** Slope of {@link #tesla}; at the lowest itself, of the branch that is about to be taken. */
  private double slope(double lowest, double net, boolean falls) {
    if (net < lowest || (net == lowest && falls)) {
      double tanh = Math.tanh((net + loop.centreAmperesPerMetre()) / loop.widthAmperesPerMetre());
      return loop.saturationTesla() * (1 - tanh * tanh) / loop.widthAmperesPerMetre()
          + reversibleSlope();
    }
    double change =
        loop.factorSlope(loop.factor(net)) * loop.factor(-lowest)
            + loop.factorSlope(loop.factor(-net)) * loop.factor(lowest);
    return 2 * loop.saturationTesla() * change + reversibleSlope();
  }

  private double reversibleSlope() {
    return Mu0.TESLA_PER_AMPERE_PER_METRE * loop.susceptibility();
  }

  private double[] polarisation(double[] lowest, double[] net) {
    return IntStream.range(0, net.length).mapToDouble(i -> tesla(lowest[i], net[i])).toArray();
  }

  private Fields led(Fields start, double[] from, double[] to, int steps) {
    Fields fields = start;
    for (int step = 1; step <= steps; step++) {
      double part = (double) step / steps;
      double[] applied =
          IntStream.range(0, from.length)
              .mapToDouble(i -> from[i] + (to[i] - from[i]) * part)
              .toArray();
      boolean falls = Arrays.stream(to).sum() < Arrays.stream(from).sum();
      double[] net = balanced(fields, applied, falls);
      double[] before = fields.lowest;
      double[] lowest =
          IntStream.range(0, net.length).mapToDouble(i -> Math.min(net[i], before[i])).toArray();
      fields = new Fields(net, lowest);
    }
    return fields;
  }

  /** The net fields at which each cell's field is the applied one and what all cells make. */
  private double[] balanced(Fields start, double[] applied, boolean falls) {
    double[] lowest = start.lowest;
    double[] net = start.net.clone();
    double accuracy = FIELD_ACCURACY * loop.centreAmperesPerMetre();
    RealVector error = error(lowest, net, applied);
    for (int step = 0; step < STEPS_MAX; step++) {
      RealVector move =
          new LUDecomposition(jacobian(lowest, net, falls))
              .getSolver()
              .solve(error)
              .mapMultiply(-1);
      double part = 1;
      double[] tried = moved(net, move, part);
      RealVector left = error(lowest, tried, applied);
      for (int halving = 0; halving < HALVINGS_MAX && left.getNorm() > error.getNorm(); halving++) {
        part *= 0.5;
        tried = moved(net, move, part);
        left = error(lowest, tried, applied);
      }
      net = tried;
      error = left;
      if (move.getLInfNorm() <= accuracy) {
        return net;
      }
    }
    throw new IllegalStateException("no balance of the magnet's fields found for " + loop);
  }

  private static double[] moved(double[] net, RealVector move, double part) {
    return IntStream.range(0, net.length)
        .mapToDouble(i -> net[i] + part * move.getEntry(i))
        .toArray();
  }

  private RealVector error(double[] lowest, double[] net, double[] applied) {
    double[] made = cells.field().operate(polarisation(lowest, net));
    RealVector error = new ArrayRealVector(net.length);
    for (int cell = 0; cell < net.length; cell++) {
      double own = made[cell] / Mu0.TESLA_PER_AMPERE_PER_METRE;
      error.setEntry(cell, net[cell] - applied[cell] - own);
    }
    return error;
  }

  private RealMatrix jacobian(double[] lowest, double[] net, boolean falls) {
    RealMatrix jacobian = MatrixUtils.createRealIdentityMatrix(net.length);
    for (int of = 0; of < net.length; of++) {
      double slope = slope(lowest[of], net[of], falls) / Mu0.TESLA_PER_AMPERE_PER_METRE;
      for (int cell = 0; cell < net.length; cell++) {
        jacobian.addToEntry(cell, of, -cells.field().getEntry(cell, of) * slope);
      }
    }
    return jacobian;
  }
}
