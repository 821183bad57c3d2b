package lodestep.sim;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/** A magnet for tests that keeps a note of what was done to it and shows one steady field. */
final class MarkedMagnet implements SeatedMagnet {

  /** One pulse as the magnet felt it. */
  record Felt(double forward, double reverse, boolean forwardFirst) {}

  final List<Felt> pulses = new ArrayList<>();
  double tesla;
  int seatings;

  MarkedMagnet(double tesla) {
    this.tesla = tesla;
  }

  @Override
  public void applyPulse(double peakForwardAperM, double peakReverseAperM, boolean forwardFirst) {
    pulses.add(new Felt(peakForwardAperM, peakReverseAperM, forwardFirst));
  }

  @Override
  public double faceFieldTesla(double standOffMetres, double temperatureKelvin, long nowNs) {
    return tesla;
  }

  @Override
  public double heightMetres() {
    return 15e-3;
  }

  @Override
  public void reseat(SplittableRandom random) {
    seatings++;
  }

  @Override
  public void turnOver() {
    tesla = -tesla;
  }
}
