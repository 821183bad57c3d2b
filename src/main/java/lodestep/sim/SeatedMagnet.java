package lodestep.sim;

import java.util.SplittableRandom;

/** What the nest can hold, as the plant sees it: something that pulses change and a gauge reads. */
public interface SeatedMagnet {

  /**
   * A pulse has passed: the applied field went from zero to each peak and back to zero.
   *
   * @param peakForwardAperM largest field that drives the gauge's face north, &ge; 0
   * @param peakReverseAperM largest field of the other sign, &ge; 0
   * @param forwardFirst which of the two came first
   */
  void applyPulse(double peakForwardAperM, double peakReverseAperM, boolean forwardFirst);

  /**
   * Flux density in tesla at this distance from the face that looks at the gauge; positive where
   * that face is north.
   */
  double faceFieldTesla(double standOffMetres, double temperatureKelvin, long nowNs);

  /** Height over the nest's floor, along the axis of charge, in metres. */
  double heightMetres();

  /** A hand has put it into the nest anew: it sits a little differently each time. */
  void reseat(SplittableRandom random);

  /** A hand has turned it upside down. */
  void turnOver();
}
