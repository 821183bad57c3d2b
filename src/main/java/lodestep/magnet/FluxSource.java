package lodestep.magnet;

/** What makes a flux density around itself: a magnet or a coil. Pure; any thread. */
@FunctionalInterface
public interface FluxSource {

  /**
   * Flux density at a place, inside the body too. Infinite or no number only on an edge at which
   * the closed form itself is infinite.
   */
  Flux at(Place place);

  /** Both sources together. */
  default FluxSource plus(FluxSource other) {
    return place -> at(place).plus(other.at(place));
  }

  /** The same source so many times as strong. */
  default FluxSource times(double factor) {
    return place -> at(place).times(factor);
  }

  /** The same source, its centre moved along the axis. */
  default FluxSource raised(double metres) {
    return place -> at(place.moved(0, 0, -metres));
  }
}
