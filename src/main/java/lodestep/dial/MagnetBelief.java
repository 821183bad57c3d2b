package lodestep.dial;

import java.util.Arrays;
import java.util.List;
import lodestep.magnet.CurveFamily;
import lodestep.magnet.CurveFamily.Trait;

/**
 * What is believed of one charged magnet's knock-down curve: what its lot has taught, changed by
 * each of its own readings. Any thread, immutable.
 *
 * <p>The curve is told by y(x), the natural logarithm of the field that leaves the part x of the
 * full charge over the nominal magnet's field for that part. It is a weighted sum of figures that
 * are normally distributed together, so that a reading changes the belief by one exact step ({@link
 * Gaussian}). An error of the full charge's reading shifts every part alike and is one of the
 * figures. Whether a pulse falls below a level needs no sampling: since what is left falls as the
 * field grows, it does so exactly if the field that leaves the level is smaller.
 */
final class MagnetBelief {

  private static final int TRAITS = KindBelief.SIZE;
  private static final int REST = TRAITS + Trait.values().length;
  private static final int FULL_ERROR = REST + KindBelief.PLACES.length;
  private static final int SIZE = FULL_ERROR + 1;

  /** Sizes within a lot; two hundredths of a millimetre of some millimetres. Common practice. */
  private static final double SIZE_SIGMA = 0.006;

  private static final double ROUNDNESS_SIGMA = 0.03;

  private static final double REST_SIGMA = 0.006;
  private static final double REST_LENGTH = 0.3;

  /** Of the full charge's reading: seating, and that the face's own form varies. */
  private static final double FULL_SIGMA = 0.005;

  /** A part of the reading and a gauge's slow wander; as {@code SettlingRule} has it. */
  private static final double READING_SIGMA = 0.001;

  private static final double READING_SIGMA_TESLA = 1e-5;

  /** A reading nearer to the full charge says nothing of the curve. */
  private static final double PART_MAX = 0.995;

  private static final int HALVINGS = 60;

  private final CurveFamily family;
  private final KindBelief kind;
  private final Gaussian joint;
  private final double fullTesla;
  private final Surprise surprise;

  private MagnetBelief(
      CurveFamily family, KindBelief kind, Gaussian joint, double fullTesla, Surprise surprise) {
    this.family = family;
    this.kind = kind;
    this.joint = joint;
    this.fullTesla = fullTesla;
    this.surprise = surprise;
  }

  /**
   * A level with its standard uncertainty.
   *
   * @param tesla positive on the pole that is asked
   * @param uncertainty in tesla
   */
  record Level(double tesla, double uncertainty) {

    /** Both taken together, as independent. */
    Level with(double otherTesla, double otherUncertainty) {
      double own = 1 / (uncertainty * uncertainty);
      double other = 1 / (otherUncertainty * otherUncertainty);
      double sum = own + other;
      return new Level((own * tesla + other * otherTesla) / sum, Math.sqrt(1 / sum));
    }
  }

  /**
   * After the readings of one magnet: charged and knocked down, and again if it fell below.
   *
   * @param nominalFullTesla what a nominal magnet reads fully charged
   * @param told relative standard uncertainty of the fields told
   */
  static MagnetBelief after(
      CurveFamily family,
      KindBelief kind,
      double nominalFullTesla,
      double told,
      List<List<Progress.Point>> charges) {
    double first = charges.get(0).get(0).levelTesla();
    MagnetBelief belief =
        charged(family, kind, first, nominalFullTesla, readingUncertainty(first) / first);
    for (List<Progress.Point> points : charges) {
      belief = belief.chargedAnew(points.get(0).levelTesla());
      for (Progress.Point point : points.subList(1, points.size())) {
        belief =
            belief.knockedDown(
                point.fieldAperM(),
                point.levelTesla(),
                told,
                readingUncertainty(point.levelTesla()));
      }
    }
    return belief;
  }

  /** Of one settled reading beside another of the same seating, in tesla. */
  static double readingUncertainty(double tesla) {
    return Math.hypot(READING_SIGMA * tesla, READING_SIGMA_TESLA);
  }

  /**
   * A magnet of the lot that has been charged and read.
   *
   * @param fullTesla its full charge as read, &gt; 0
   * @param nominalFullTesla what a nominal magnet would read
   * @param uncertainty of the reading, relative, without the gain
   */
  static MagnetBelief charged(
      CurveFamily family,
      KindBelief kind,
      double fullTesla,
      double nominalFullTesla,
      double uncertainty) {
    double wider = kind.widening();
    Gaussian own =
        Gaussian.independent(
                kind.spread().remanenceMagnet(),
                kind.spread().coercivityMagnet(),
                SIZE_SIGMA,
                ROUNDNESS_SIGMA)
            .beside(Gaussian.smooth(KindBelief.PLACES, REST_SIGMA, REST_LENGTH))
            .wider(wider);
    Gaussian joint = kind.common().beside(own).beside(Gaussian.independent(uncertainty));
    double[] weights = new double[SIZE];
    weights[KindBelief.GAUGE] = 1;
    for (Trait trait : Trait.values()) {
      weights[KindBelief.TRAITS + trait.ordinal()] = family.fullPer(trait);
      weights[TRAITS + trait.ordinal()] = family.fullPer(trait);
    }
    double noise = FULL_SIGMA * FULL_SIGMA + uncertainty * uncertainty;
    double value = Math.log(fullTesla / nominalFullTesla);
    double off = value - joint.expected(weights);
    double sigmas = off / Math.sqrt(joint.variance(weights) + noise);
    Gaussian after = joint.observing(weights, value, noise);
    return new MagnetBelief(family, kind, after, fullTesla, new Surprise(sigmas, off, 0, 0));
  }

  /** The same magnet charged anew: its curve is still known as it was. */
  MagnetBelief chargedAnew(double newFullTesla) {
    return new MagnetBelief(family, kind, joint, newFullTesla, surprise);
  }

  /**
   * After a knock-down.
   *
   * @param fieldAperM largest reverse peak as delivered, &gt; 0
   * @param levelTesla as read
   * @param fieldUncertainty relative
   * @param levelUncertainty in tesla
   */
  MagnetBelief knockedDown(
      double fieldAperM, double levelTesla, double fieldUncertainty, double levelUncertainty) {
    double part = levelTesla / fullTesla;
    if (!(part > 0 && part < PART_MAX)) {
      return this;
    }
    double steep = family.fieldPerPart(part) * levelUncertainty / levelTesla;
    double noise = fieldUncertainty * fieldUncertainty + steep * steep;
    double[] weights = weights(part);
    double value = Math.log(fieldAperM / family.nominal().fieldFor(part));
    double whole = joint.variance(weights) + noise;
    double sigmas = (value - joint.expected(weights)) / Math.sqrt(whole);
    return new MagnetBelief(
        family,
        kind,
        joint.observing(weights, value, noise),
        fullTesla,
        surprise.withField(sigmas, ownShare(weights, whole)));
  }

  private double ownShare(double[] weights, double whole) {
    double[] ofLot = Arrays.copyOf(weights, SIZE);
    Arrays.fill(ofLot, TRAITS, SIZE, 0);
    return Math.max(0, 1 - joint.variance(ofLot) / whole);
  }

  /** What this magnet has taught of its lot. */
  KindBelief taught() {
    return surprise.isStrange() ? kind : kind.taught(joint, surprise);
  }

  /** How far it lies off what its lot promised. */
  Surprise surprise() {
    return surprise;
  }

  /**
   * The field that leaves this level.
   *
   * @param levelTesla above 0, below the full charge
   * @param sigmas of doubt to stay below the expected field
   * @param deliveredUncertainty relative, of what a pulse delivers against what is asked of it
   */
  double fieldLeaving(double levelTesla, double sigmas, double deliveredUncertainty) {
    double part = Math.min(levelTesla / fullTesla, PART_MAX);
    double[] weights = weights(part);
    double sigma = Math.sqrt(joint.variance(weights) + deliveredUncertainty * deliveredUncertainty);
    double shift = joint.expected(weights) - sigmas * sigma;
    return family.nominal().fieldFor(part) * Math.exp(shift);
  }

  /** Relative change of the field for a change of the level that it leaves, in 1/T; &lt; 0. */
  double fieldPerLevel(double levelTesla) {
    return family.fieldPerPart(Math.min(levelTesla / fullTesla, PART_MAX)) / levelTesla;
  }

  /**
   * The level that a peak of this field leaves.
   *
   * @param told relative standard uncertainty of the field
   */
  Level levelAfter(double fieldAperM, double told) {
    double low = 1e-3;
    double high = PART_MAX;
    for (int i = 0; i < HALVINGS; i++) {
      double middle = 0.5 * (low + high);
      boolean leavesMore = fieldLeaving(middle * fullTesla, 0, 0) > fieldAperM;
      low = leavesMore ? middle : low;
      high = leavesMore ? high : middle;
    }
    double part = 0.5 * (low + high);
    double sigma = Math.sqrt(joint.variance(weights(part)) + told * told);
    double relative = sigma / Math.abs(family.fieldPerPart(part));
    return new Level(part * fullTesla, relative * part * fullTesla);
  }

  private double[] weights(double part) {
    double[] weights = new double[SIZE];
    weights[KindBelief.COIL] = -1;
    for (Trait trait : Trait.values()) {
      double per = family.fieldPer(trait, part);
      weights[KindBelief.TRAITS + trait.ordinal()] = per;
      weights[TRAITS + trait.ordinal()] = per;
    }
    double[] places = KindBelief.PLACES;
    int below = 1;
    while (below < places.length - 1 && part < places[below]) {
      below++;
    }
    double along = (places[below - 1] - part) / (places[below - 1] - places[below]);
    double bounded = Math.max(0, Math.min(1, along));
    for (int from : new int[] {KindBelief.REST, REST}) {
      weights[from + below - 1] = 1 - bounded;
      weights[from + below] = bounded;
    }
    weights[FULL_ERROR] = family.fieldPerPart(part);
    return weights;
  }
}
