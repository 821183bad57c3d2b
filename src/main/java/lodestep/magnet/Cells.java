package lodestep.magnet;

/**
 * A magnet cut into cells, each polarised evenly. Across the axis of charge a cell answers in
 * proportion to the field. Pure; any thread.
 */
interface Cells {

  /** How many there are. */
  int count();

  /** Each cell's part of the whole volume; the sum is one. */
  double volumePart(int cell);

  /**
   * µ0 H along the axis in tesla, mean over a cell, for one tesla along the axis in another, with
   * what the cells across the axis answer to it.
   */
  double fieldIn(int cell, int ofCell);

  /**
   * What the cells make outside the magnet, with that answer.
   *
   * @param alongTesla polarisation of each along the axis
   */
  FluxSource outside(double[] alongTesla);
}
