package lodestep.magnet;

import lodestep.quantity.Length;

/**
 * Two hard magnets that face each other with unlike poles, with the work between them. Any thread,
 * immutable.
 *
 * <p>In air and with no steel behind them, so that a yoke gives more than is said here. The field
 * is least near the middle of the work, and that is what has to saturate it.
 *
 * @param upper over the work
 * @param lower under it
 * @param gap between the work's face and a jaw's, on both sides, &ge; 0
 */
public record Jaws(HardMagnet upper, HardMagnet lower, Length gap, Shape work) {

  /**
   * @throws IllegalArgumentException if the gap is negative
   */
  public Jaws {
    if (gap.metres() < 0) {
      throw new IllegalArgumentException("the gap is " + gap.written() + "; it cannot be negative");
    }
  }

  /** What charges the work to +z, its centre the origin. */
  public FluxSource charging() {
    double face = 0.5 * work.height().metres() + gap.metres();
    double up = face + 0.5 * upper.shape().height().metres();
    double down = face + 0.5 * lower.shape().height().metres();
    return upper.source().raised(up).plus(lower.source().raised(-down));
  }

  /** The field in the work, along its axis; above zero. */
  public FieldInWork inWork() {
    return new FieldInWork(charging(), work);
  }
}
