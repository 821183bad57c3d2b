package lodestep.magnet;

import java.util.ArrayList;
import java.util.List;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * A bar cut into blocks, each evenly polarised along all three axes. Only an eighth is cut where
 * the bar is charged evenly and its other parts are the mirror images; a quarter, from end to end,
 * where a field differs between its ends. Any thread, immutable.
 */
final class BarCells implements Cells {

  /**
   * How many cells an eighth has along each axis, z the axis of charge.
   *
   * @param endToEnd whether both ends are cut
   */
  record Grid(int x, int y, int z, boolean endToEnd) {}

  private static final int X = 0;
  private static final int Y = 1;
  private static final int Z = 2;

  /** In half sizes of a cell. */
  private static final double FAR = 6;

  private static final double[] SIDES = {1, -1};
  private static final double[] ALONE = {1};

  /** Points of the Gauss rule in a cell, along each axis: ±1/√3 of its half sizes. */
  private static final double[] POINTS = {-1 / Math.sqrt(3), 1 / Math.sqrt(3)};

  /**
   * One cell of the part in which x and y are above zero.
   *
   * @param mirrored whether it stands for its image across z as well
   */
  private record Cell(Place centre, Block size, boolean mirrored) {

    double volume() {
      return size.halfXMetres() * size.halfYMetres() * size.halfZMetres();
    }

    /** B of one tesla along an axis in this cell and in its mirror images. */
    FluxSource along(int axis) {
      FluxSource whole = place -> Flux.NONE;
      for (double x : SIDES) {
        for (double y : SIDES) {
          for (double z : mirrored ? SIDES : ALONE) {
            whole = whole.plus(image(axis, x, y, z));
          }
        }
      }
      return whole;
    }

    /** Poles mirror with their sign across x and y, and with the other sign across z. */
    private FluxSource image(int axis, double x, double y, double z) {
      double sign = axis == X ? x * z : axis == Y ? y * z : 1;
      double atX = -x * centre.xMetres();
      double atY = -y * centre.yMetres();
      double atZ = -z * centre.zMetres();
      FluxSource own = turned(axis);
      return place -> own.at(place.moved(atX, atY, atZ)).times(sign);
    }

    private FluxSource turned(int axis) {
      double x = size.halfXMetres();
      double y = size.halfYMetres();
      double z = size.halfZMetres();
      if (axis == Z) {
        return size;
      }
      FluxSource block = axis == X ? new Block(y, z, x) : new Block(z, x, y);
      return axis == X
          ? place -> {
            Flux flux = block.at(new Place(place.yMetres(), place.zMetres(), place.xMetres()));
            return new Flux(flux.zTesla(), flux.xTesla(), flux.yTesla());
          }
          : place -> {
            Flux flux = block.at(new Place(place.zMetres(), place.xMetres(), place.yMetres()));
            return new Flux(flux.yTesla(), flux.zTesla(), flux.xTesla());
          };
    }

    private boolean isFarFrom(Place from) {
      double largest =
          Math.max(size.halfXMetres(), Math.max(size.halfYMetres(), size.halfZMetres()));
      return distance(from, centre) > FAR * largest;
    }

    /** Mean over this cell of a source; one that is far off is as good as even over it. */
    Flux meanOf(FluxSource source, Place from) {
      return isFarFrom(from) ? source.at(centre) : meanOf(source);
    }

    Flux meanOf(FluxSource source) {
      Flux sum = Flux.NONE;
      for (double u : POINTS) {
        for (double v : POINTS) {
          for (double w : POINTS) {
            Place place =
                centre.moved(
                    u * size.halfXMetres(), v * size.halfYMetres(), w * size.halfZMetres());
            sum = sum.plus(source.at(place));
          }
        }
      }
      return sum.times(1.0 / (POINTS.length * POINTS.length * POINTS.length));
    }
  }

  private static double distance(Place one, Place other) {
    double x = one.xMetres() - other.xMetres();
    double y = one.yMetres() - other.yMetres();
    double z = one.zMetres() - other.zMetres();
    return Math.sqrt(x * x + y * y + z * z);
  }

  private final List<Cell> cells;
  private final RealMatrix field;
  private final RealMatrix answer;
  private final RealMatrix toApplied;
  private final boolean endToEnd;
  private final double volume;

  BarCells(Shape.Bar bar, Grid grid, double susceptibilityAcross) {
    this.cells = cut(bar.edges(), grid);
    this.volume = cells.stream().mapToDouble(Cell::volume).sum();
    int count = cells.size();
    RealMatrix[][] made = fields();
    // Across: P = χ (A Jz + C P) for both axes together.
    RealMatrix ofAlong = MatrixUtils.createRealMatrix(2 * count, count);
    ofAlong.setSubMatrix(made[X][Z].getData(), 0, 0);
    ofAlong.setSubMatrix(made[Y][Z].getData(), count, 0);
    RealMatrix ofAcross = MatrixUtils.createRealMatrix(2 * count, 2 * count);
    for (int to : new int[] {X, Y}) {
      for (int from : new int[] {X, Y}) {
        ofAcross.setSubMatrix(made[to][from].getData(), to * count, from * count);
      }
    }
    RealMatrix closed =
        MatrixUtils.createRealIdentityMatrix(2 * count)
            .subtract(ofAcross.scalarMultiply(susceptibilityAcross));
    RealMatrix answering =
        new LUDecomposition(closed).getSolver().getInverse().scalarMultiply(susceptibilityAcross);
    this.answer = answering.multiply(ofAlong);
    RealMatrix back = MatrixUtils.createRealMatrix(count, 2 * count);
    back.setSubMatrix(made[Z][X].getData(), 0, 0);
    back.setSubMatrix(made[Z][Y].getData(), 0, count);
    this.field = made[Z][Z].add(back.multiply(answer));
    this.toApplied = back.multiply(answering);
    this.endToEnd = grid.endToEnd();
  }

  /** µ0 H along the first axis, mean over each cell, for one tesla along the second in each. */
  private RealMatrix[][] fields() {
    int count = cells.size();
    RealMatrix[][] made = new RealMatrix[3][3];
    for (int from : new int[] {X, Y, Z}) {
      for (int to : new int[] {X, Y, Z}) {
        made[to][from] = MatrixUtils.createRealMatrix(count, count);
      }
      for (int source = 0; source < count; source++) {
        FluxSource of = cells.get(source).along(from);
        Place at = cells.get(source).centre();
        for (int cell = 0; cell < count; cell++) {
          Flux mean = cells.get(cell).meanOf(of, at);
          made[X][from].setEntry(cell, source, mean.xTesla());
          made[Y][from].setEntry(cell, source, mean.yTesla());
          made[Z][from].setEntry(cell, source, mean.zTesla());
        }
        made[from][from].addToEntry(source, source, -1);
      }
    }
    return made;
  }

  private static List<Cell> cut(Prism edges, Grid grid) {
    List<Cell> cut = new ArrayList<>();
    double[] x = cuts(0.5 * edges.a(), grid.x());
    double[] y = cuts(0.5 * edges.b(), grid.y());
    double[] z = grid.endToEnd() ? endToEnd(edges.c(), grid.z()) : cuts(0.5 * edges.c(), grid.z());
    for (int i = 0; i < grid.x(); i++) {
      for (int j = 0; j < grid.y(); j++) {
        for (int k = 0; k < z.length - 1; k++) {
          Place centre =
              new Place(0.5 * (x[i] + x[i + 1]), 0.5 * (y[j] + y[j + 1]), 0.5 * (z[k] + z[k + 1]));
          Block size =
              new Block(0.5 * (x[i + 1] - x[i]), 0.5 * (y[j + 1] - y[j]), 0.5 * (z[k + 1] - z[k]));
          cut.add(new Cell(centre, size, !grid.endToEnd()));
        }
      }
    }
    return cut;
  }

  /** From the middle to the face, finer towards it. */
  private static double[] cuts(double half, int parts) {
    double[] cuts = new double[parts + 1];
    for (int part = 0; part <= parts; part++) {
      cuts[part] = half * Math.sin(0.5 * Math.PI * part / parts);
    }
    return cuts;
  }

  /** From face to face, finer towards both. */
  private static double[] endToEnd(double size, int parts) {
    double[] half = cuts(0.5 * size, parts);
    double[] cuts = new double[2 * parts + 1];
    for (int part = 0; part <= parts; part++) {
      cuts[parts + part] = half[part];
      cuts[parts - part] = -half[part];
    }
    return cuts;
  }

  @Override
  public double volumePart(int cell) {
    return cells.get(cell).volume() / volume;
  }

  @Override
  public RealMatrix field() {
    return field;
  }

  /** {@inheritDoc} The source is taken as its own mirror image across x and y. */
  @Override
  public double[] alongOf(FluxSource applied) {
    if (!endToEnd) {
      throw new IllegalArgumentException("an uneven field needs cells from end to end");
    }
    int count = cells.size();
    RealVector along = new ArrayRealVector(count);
    RealVector across = new ArrayRealVector(2 * count);
    for (int cell = 0; cell < count; cell++) {
      Flux mean = cells.get(cell).meanOf(applied);
      along.setEntry(cell, mean.zTesla());
      across.setEntry(cell, mean.xTesla());
      across.setEntry(count + cell, mean.yTesla());
    }
    return along.add(toApplied.operate(across)).toArray();
  }

  @Override
  public FluxSource outside(double[] alongTesla) {
    double[] acrossTesla = answer.operate(alongTesla);
    FluxSource whole = place -> Flux.NONE;
    for (int cell = 0; cell < cells.size(); cell++) {
      Cell of = cells.get(cell);
      whole =
          whole
              .plus(of.along(X).times(acrossTesla[cell]))
              .plus(of.along(Y).times(acrossTesla[cells.size() + cell]))
              .plus(of.along(Z).times(alongTesla[cell]));
    }
    return whole;
  }
}
