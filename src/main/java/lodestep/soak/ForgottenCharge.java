package lodestep.soak;

import java.util.SplittableRandom;
import java.util.function.BooleanSupplier;
import lodestep.sim.Controls;
import lodestep.sim.SeatedMagnet;

/**
 * A magnet whose winder may forget to charge it: what would be done to it between the jaws, outside
 * the nest, is then not done. Confined to its world.
 *
 * @param magnet the same, for those who see it in the nest
 */
record ForgottenCharge(SeatedMagnet magnet, Controls controls, BooleanSupplier forgets)
    implements SeatedMagnet {

  @Override
  public void applyPulse(double peakForwardAperM, double peakReverseAperM, boolean forwardFirst) {
    if (controls.seated().isPresent() || !forgets.getAsBoolean()) {
      magnet.applyPulse(peakForwardAperM, peakReverseAperM, forwardFirst);
    }
  }

  @Override
  public double faceFieldTesla(double standOffMetres, double temperatureKelvin, long nowNs) {
    return magnet.faceFieldTesla(standOffMetres, temperatureKelvin, nowNs);
  }

  @Override
  public double heightMetres() {
    return magnet.heightMetres();
  }

  @Override
  public void reseat(SplittableRandom random) {
    magnet.reseat(random);
  }

  @Override
  public void turnOver() {
    magnet.turnOver();
  }
}
