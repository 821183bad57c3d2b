package lodestep.dial;

import lodestep.magnet.CurveFamily.Trait;
import lodestep.magnet.Spread;

/**
 * What is believed of the magnets of one kind, from one lot, on one rig: how they differ together
 * from the nominal magnet's curve, and how far they lie apart. Any thread, immutable.
 *
 * <p>All are relative differences, normally distributed: of the coil's field per ampere and of the
 * gauge's gain; of the lot's remanence, coercivity and slenderness, whose effect the physics knows
 * ({@link lodestep.magnet.CurveFamily}); and a smooth rest along the curve for what the physics has
 * wrong. A magnet of the lot differs from it by the same traits and a smaller rest of its own.
 *
 * @param common of all magnets: coil, gauge, traits, rest at {@link #PLACES}
 * @param spread from magnet to magnet of one lot, as the alloy's figures say
 * @param surprise sum of squared surprises over their expected variance, each counted by its weight
 * @param weight sum of the weights
 */
record KindBelief(Gaussian common, Spread spread, double surprise, double weight) {

  /** Parts of the full charge at which the rest is told, falling. */
  static final double[] PLACES = {0.97, 0.87, 0.76, 0.64, 0.52, 0.4, 0.28, 0.15};

  static final int COIL = 0;
  static final int GAUGE = 1;
  static final int TRAITS = 2;
  static final int REST = TRAITS + Trait.values().length;
  static final int SIZE = REST + PLACES.length;

  /** The gauge's gain and the nest's stand-off as rig.toml tells them. Configuration. */
  private static final double GAUGE_SIGMA = 0.02;

  /** From one magnet to the next the rig changes by less. */
  private static final double COIL_DRIFT = 0.001;

  /** Of the loop's form against the published figures. Judged by curves on record. */
  private static final double REST_SIGMA = 0.08;

  private static final double REST_LENGTH = 0.35;

  private static final double SIZE_SIGMA = 0.01;

  /** The alloy's spread counts as if so many magnets had been seen to have it. */
  private static final double SPREAD_WEIGHT = 6;

  private static final double LEAST_WIDENING = 0.5;
  private static final double MOST_WIDENING = 3;

  /**
   * Before any magnet of this kind was seen on this rig.
   *
   * @param spread of the alloy
   * @param sourceScale relative standard uncertainty of the source's field, common to all acts
   */
  static KindBelief before(Spread spread, double sourceScale) {
    Gaussian traits =
        Gaussian.independent(
            sourceScale,
            GAUGE_SIGMA,
            spread.remanenceLot(),
            spread.coercivityLot(),
            SIZE_SIGMA,
            spread.roundnessLot());
    // Of an alloy that is not known the form is less known as a whole, not in its knee alone.
    double form = Math.max(1, spread.roundnessLot() / Spread.ROUNDNESS);
    Gaussian rest = Gaussian.smooth(PLACES, form * REST_SIGMA, REST_LENGTH);
    return new KindBelief(traits.beside(rest), spread, 0, 0);
  }

  /** How much wider than the alloy's figures say this lot's magnets lie apart; near 1. */
  double widening() {
    double ratio = (SPREAD_WEIGHT + surprise) / (SPREAD_WEIGHT + weight);
    return Math.max(LEAST_WIDENING, Math.min(MOST_WIDENING, Math.sqrt(ratio)));
  }

  /**
   * After one more magnet of the lot.
   *
   * @param joint belief of the lot and this magnet
   * @param ownSurprise tells how far the lot's magnets lie apart, by as much as it is not the lot
   *     that was doubted
   */
  KindBelief taught(Gaussian joint, Surprise ownSurprise) {
    Gaussian lot = joint.first(SIZE).drifted(COIL, COIL_DRIFT);
    double share = ownSurprise.ownShare();
    return new KindBelief(
        lot, spread, surprise + share * ownSurprise.field() * ownSurprise.field(), weight + share);
  }
}
