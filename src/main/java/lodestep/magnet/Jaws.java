package lodestep.magnet;

import java.util.Optional;
import lodestep.quantity.Length;

/**
 * What charges a magnet by hand: two hard magnets that face each other with unlike poles, the work
 * between them, or one that comes to one end of it. Any thread, immutable.
 *
 * <p>In air and with no steel behind them, so that a yoke gives more than is said here. Between two
 * jaws the field is least near the middle of the work, before one jaw at its far end; that is what
 * has to saturate it.
 *
 * @param upper over the work
 * @param lower under it, or none
 * @param gap between the work's face and a jaw's, on both sides, &ge; 0
 */
public record Jaws(HardMagnet upper, Optional<HardMagnet> lower, Length gap, Shape work) {

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
    FluxSource above = upper.source().raised(up);
    return lower
        .map(jaw -> jaw.source().raised(-face - 0.5 * jaw.shape().height().metres()))
        .map(above::plus)
        .orElse(above);
  }

  /** The field in the work, along its axis; above zero. */
  public FieldInWork inWork() {
    return new FieldInWork(charging(), work);
  }
}
