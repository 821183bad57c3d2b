package lodestep.dial;

import java.util.SplittableRandom;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Hysteresis;
import lodestep.quantity.Length;
import lodestep.sim.SeatedMagnet;

/**
 * A magnet of another hysteresis, with smaller loops of its own: some thousand relays whose fields
 * spread log-normally, each off centre by a normal bias, on one load line. It shares no formula
 * with the program's.
 */
final class RelayMagnet implements SeatedMagnet {

  private static final double MU0 = 4e-7 * Math.PI;
  private static final int RELAYS = 3000;
  private static final int HALVINGS = 45;
  private static final double SPREAD = 0.18;
  private static final double BIAS = 0.12;
  private static final double LOT = 0.04;

  private final double[] upAt = new double[RELAYS];
  private final double[] downAt = new double[RELAYS];
  private final boolean[] up = new boolean[RELAYS];
  private final double shear;
  private final double teslaPerTesla;
  private final double saturation;
  private final double susceptibility;
  private double polarisation;

  RelayMagnet(FaceModel kind, SplittableRandom random) {
    Hysteresis loop = kind.model().loop();
    double hard = loop.centreAmperesPerMetre() * (1 + LOT * random.nextGaussian());
    for (int i = 0; i < RELAYS; i++) {
      double half = hard * Math.exp(SPREAD * random.nextGaussian());
      double bias = hard * BIAS * random.nextGaussian();
      upAt[i] = bias + half;
      downAt[i] = bias - half;
      up[i] = random.nextBoolean();
    }
    this.saturation = loop.saturationTesla();
    this.susceptibility = loop.susceptibility();
    this.shear = kind.model().demagnetisingFactor() / MU0;
    double full = kind.chargedField(Length.ofMm(2)).tesla();
    this.teslaPerTesla = full / kind.model().chargedPolarisationTesla();
    this.polarisation = of(0, true, false);
  }

  /**
   * Polarisation once the field inside has come up, or down, to this; flips what turns if asked.
   */
  private double of(double inside, boolean rising, boolean flips) {
    int sum = 0;
    for (int i = 0; i < RELAYS; i++) {
      boolean then = rising ? up[i] || upAt[i] <= inside : up[i] && downAt[i] < inside;
      sum += then ? 1 : -1;
      if (flips) {
        up[i] = then;
      }
    }
    return saturation * sum / RELAYS + MU0 * susceptibility * inside;
  }

  private void ramp(double applied, boolean rising) {
    double low = -2e6;
    double high = 2e6;
    for (int i = 0; i < HALVINGS; i++) {
      double inside = 0.5 * (low + high);
      boolean beyond = inside + shear * of(inside, rising, false) > applied;
      high = beyond ? inside : high;
      low = beyond ? low : inside;
    }
    polarisation = of(rising ? low : high, rising, true);
  }

  private void pulse(double peak) {
    if (peak != 0) {
      ramp(peak, peak > 0);
      ramp(0, peak < 0);
    }
  }

  @Override
  public void applyPulse(double north, double south, boolean northFirst) {
    pulse(northFirst ? north : -south);
    pulse(northFirst ? -south : north);
  }

  @Override
  public double faceFieldTesla(double standOffMetres, double kelvin, long nowNs) {
    return polarisation * teslaPerTesla;
  }

  @Override
  public double heightMetres() {
    return 0.0165;
  }

  @Override
  public void reseat(SplittableRandom random) {
    // Its seating is not part of what is tried here.
  }

  @Override
  public void turnOver() {
    throw new UnsupportedOperationException("nobody turns it over");
  }
}
