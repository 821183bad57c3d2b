package lodestep.soak;

import java.util.SplittableRandom;
import java.util.function.BooleanSupplier;
import lodestep.sim.SeatedMagnet;
import lodestep.sim.VirtualRig;

/**
 * A magnet as it goes through the winder's hands. She may forget to charge it: what would be done
 * to it between the jaws, outside the nest, is then not done. Keeps how near the jig's carriage has
 * come over it since its last charge. Confined to its world.
 */
final class HandledMagnet implements SeatedMagnet {

  private final SeatedMagnet magnet;
  private final VirtualRig rig;
  private final BooleanSupplier forgets;
  private double lowestMetres;

  HandledMagnet(SeatedMagnet magnet, VirtualRig rig, BooleanSupplier forgets) {
    this.magnet = magnet;
    this.rig = rig;
    this.forgets = forgets;
  }

  /**
   * The nearest to the work that the carriage was over it since its last charge, in metres from
   * home; 0 if it never was.
   */
  double lowestMetres() {
    return lowestMetres;
  }

  @Override
  public void applyPulse(double peakForwardAperM, double peakReverseAperM, boolean forwardFirst) {
    boolean seated = rig.controls().seated().isPresent();
    if (!seated && forgets.getAsBoolean()) {
      return;
    }
    // Jaws and coil charge it; the jig alone drives it one way with it in the nest.
    boolean opposed = seated && peakForwardAperM == 0;
    lowestMetres = opposed ? Math.max(lowestMetres, rig.truth().carriageMetres()) : 0;
    magnet.applyPulse(peakForwardAperM, peakReverseAperM, forwardFirst);
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
