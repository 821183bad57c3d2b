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

  /** A magnet of this shape and loop, in as many cells as bring the field within 3 per cent. */
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
    Course course = new Course.FromSaturation(loop);
    Fields turned = alone();
    double applied = 0;
    List<Resolved> left = new ArrayList<>();
    for (FieldStrength peak : peaks) {
      double reverse = -peak.amperesPerMetre();
      if (!(reverse <= applied)) {
        throw new IllegalArgumentException(
            "a knock-down's peaks are given without sign, rising: " + peak.amperesPerMetre());
      }
      turned = led(course, turned, even(applied), even(reverse), strides(reverse - applied));
      applied = reverse;
      Fields back = led(course, turned, even(reverse), even(0), strides(reverse));
      left.add(new Resolved(polarisation(course, back.turn, back.net)));
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
    return through(new Course.FromSaturation(loop), alone(), against);
  }

  /**
   * Uncharged, then brought through an uneven field and out of it again: charged between jaws, or
   * by one jaw that came to one end. A weak field leaves it charged in part, and most near the jaw.
   *
   * @param by outside the magnet, whose centre is the origin and whose charge is to point to +z;
   *     even around a rod's axis, its own mirror image across a bar's
   * @throws IllegalArgumentException if this magnet was not made {@link #forUnevenFields}
   */
  public Resolved charged(FluxSource by) {
    return through(new Course.FromNothing(loop), new Fields(even(0), even(0)), by);
  }

  private Resolved through(Course course, Fields start, FluxSource source) {
    double[] applied = cells.alongOf(source);
    double largest = 0;
    for (int cell = 0; cell < applied.length; cell++) {
      applied[cell] /= Mu0.TESLA_PER_AMPERE_PER_METRE;
      largest = Math.max(largest, Math.abs(applied[cell]));
    }
    int steps = Math.max(LED_IN, strides(largest));
    Fields turned = led(course, start, even(0), applied, steps);
    Fields left = led(course, turned, applied, even(0), steps);
    return new Resolved(polarisation(course, left.turn, left.net));
  }

  /** Saturated, and left alone. */
  private Fields alone() {
    double saturating =
        loop.centreAmperesPerMetre()
            + SATURATING_WIDTHS * loop.widthAmperesPerMetre()
            + loop.saturationTesla() / Mu0.TESLA_PER_AMPERE_PER_METRE;
    double[] charging = even(saturating);
    Course course = new Course.FromSaturation(loop);
    return led(course, new Fields(charging, charging), charging, even(0), LED_IN);
  }

  /** Each cell's net field, and where it turned: what it remembers. */
  private static final class Fields {
    private final double[] net;
    private final double[] turn;

    Fields(double[] net, double[] turn) {
      this.net = net;
      this.turn = turn;
    }
  }

  private static double[] polarisation(Course course, double[] turn, double[] net) {
    return IntStream.range(0, net.length).mapToDouble(i -> course.tesla(turn[i], net[i])).toArray();
  }

  private Fields led(Course course, Fields start, double[] from, double[] to, int steps) {
    Fields fields = start;
    for (int step = 1; step <= steps; step++) {
      double part = (double) step / steps;
      double[] applied =
          IntStream.range(0, from.length)
              .mapToDouble(i -> from[i] + (to[i] - from[i]) * part)
              .toArray();
      boolean rises = Arrays.stream(to).sum() > Arrays.stream(from).sum();
      double[] net = balanced(course, fields, applied, rises);
      double[] before = fields.turn;
      double[] turn =
          IntStream.range(0, net.length).mapToDouble(i -> course.turn(before[i], net[i])).toArray();
      fields = new Fields(net, turn);
    }
    return fields;
  }

  /** The net fields at which each cell's field is the applied one and what all cells make. */
  private double[] balanced(Course course, Fields start, double[] applied, boolean rises) {
    double[] turn = start.turn;
    double[] net = start.net.clone();
    double accuracy = FIELD_ACCURACY * loop.centreAmperesPerMetre();
    RealVector error = error(course, turn, net, applied);
    for (int step = 0; step < STEPS_MAX; step++) {
      RealVector move =
          new LUDecomposition(jacobian(course, turn, net, rises))
              .getSolver()
              .solve(error)
              .mapMultiply(-1);
      double part = 1;
      double[] tried = moved(net, move, part);
      RealVector left = error(course, turn, tried, applied);
      for (int halving = 0; halving < HALVINGS_MAX && left.getNorm() > error.getNorm(); halving++) {
        part *= 0.5;
        tried = moved(net, move, part);
        left = error(course, turn, tried, applied);
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

  private RealVector error(Course course, double[] turn, double[] net, double[] applied) {
    double[] made = cells.field().operate(polarisation(course, turn, net));
    RealVector error = new ArrayRealVector(net.length);
    for (int cell = 0; cell < net.length; cell++) {
      double own = made[cell] / Mu0.TESLA_PER_AMPERE_PER_METRE;
      error.setEntry(cell, net[cell] - applied[cell] - own);
    }
    return error;
  }

  private RealMatrix jacobian(Course course, double[] turn, double[] net, boolean rises) {
    RealMatrix jacobian = MatrixUtils.createRealIdentityMatrix(net.length);
    for (int of = 0; of < net.length; of++) {
      double slope = course.slope(turn[of], net[of], rises) / Mu0.TESLA_PER_AMPERE_PER_METRE;
      for (int cell = 0; cell < net.length; cell++) {
        jacobian.addToEntry(cell, of, -cells.field().getEntry(cell, of) * slope);
      }
    }
    return jacobian;
  }
}
