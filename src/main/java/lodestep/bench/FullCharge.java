package lodestep.bench;

import lodestep.magnet.Alloy;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/** About how much a magnet reads when it is fully charged. */
@FunctionalInterface
public interface FullCharge {

  /**
   * The reading on the pole face, without sign; from the alloy's figures alone, so no more than a
   * guide.
   *
   * @param standOff from the face to the gauge's element
   */
  FluxDensity reading(Alloy alloy, Shape shape, Length standOff);
}
