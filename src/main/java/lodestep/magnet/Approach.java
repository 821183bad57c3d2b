package lodestep.magnet;

import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * An opposing magnet over the work, both on one axis: that of a jig, or one brought by hand. Any
 * thread, immutable.
 *
 * <p>The work's near end sees several times what its far end sees; how much depends on the gap, the
 * work's height and the magnet's size. In air, with no steel near; the opposing magnet is taken as
 * unchanged by the work.
 *
 * @param gap between the two faces, &ge; 0
 */
public record Approach(HardMagnet magnet, Length gap, Shape work) {

  /**
   * @throws IllegalArgumentException if the gap is negative
   */
  public Approach {
    if (gap.metres() < 0) {
      throw new IllegalArgumentException("the gap is " + gap.written() + "; it cannot be negative");
    }
  }

  /**
   * What acts against a work whose charge points to +z, its centre the origin. What it leaves of a
   * full charge is for {@link ResolvedMagnet#knockedDown(FluxSource)} to say.
   */
  public FluxSource against() {
    double up =
        0.5 * work.height().metres() + gap.metres() + 0.5 * magnet.shape().height().metres();
    return magnet.source().raised(up).times(-1);
  }

  /** The field in the work, along its axis; below zero, as it acts against the charge. */
  public FieldInWork inWork() {
    return new FieldInWork(against(), work);
  }

  /**
   * What a gauge beyond the work reads of the opposing magnet, without sign, whether there is work
   * in the nest or not.
   *
   * @param standOff from the work's far face to the element, &ge; 0
   */
  public FluxDensity strayAt(HallElement element, Length standOff) {
    Place gauge = work.readAt(standOff).below();
    return new FluxDensity(Math.abs(element.reads(against(), gauge)));
  }
}
