package lodestep.magnet;

import org.hipparchus.linear.RealMatrix;

/**
 * A magnet cut into cells, each polarised evenly. Across the axis of charge a cell answers in
 * proportion to the field. Pure; any thread.
 */
interface Cells {

  /** Each cell's part of the whole volume; the sum is one. */
  double volumePart(int cell);

  /**
   * µ0 H along the axis in tesla, mean over the cell of the row, for one tesla along the axis in
   * the cell of the column, with what the cells across the axis answer to it. Not to be changed.
   */
  RealMatrix field();

  /**
   * µ0 H along the axis in tesla, mean over each cell, of a source outside the magnet, with what
   * the cells across the axis answer to it.
   *
   * @throws IllegalArgumentException if these cells stand for both ends at once, so that only a
   *     field alike at both could be given
   */
  double[] alongOf(FluxSource applied);

  /** How many there are. */
  default int count() {
    return field().getRowDimension();
  }

  /**
   * What the cells make outside the magnet, with that answer.
   *
   * @param alongTesla polarisation of each along the axis
   */
  FluxSource outside(double[] alongTesla);
}
