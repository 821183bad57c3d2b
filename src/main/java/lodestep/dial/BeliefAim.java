package lodestep.dial;

import lodestep.quantity.FieldStrength;

/**
 * The peak field of the next reverse pulse by what is believed of the magnet: the largest whose
 * chance of landing below the accepted band is under a limit, and none beyond the target.
 *
 * @param targetTesla positive
 * @param halfTesla half width of the accepted band, &gt; 0
 * @param readTesla standard uncertainty of the next reading beside the last ones
 * @param delivered relative standard uncertainty of what a pulse delivers against what is asked
 */
record BeliefAim(
    MagnetBelief belief, double targetTesla, double halfTesla, double readTesla, double delivered) {

  /** One pulse in a hundred may fall below; two or three of them make one magnet. */
  static final double SIGMAS = 2.33;

  /** The largest field that is safe. */
  FieldStrength safe() {
    double lowest = targetTesla - halfTesla;
    double read = belief.fieldPerLevel(lowest) * readTesla;
    return new FieldStrength(belief.fieldLeaving(lowest, SIGMAS, Math.hypot(delivered, read)));
  }

  /** The field that is expected to end at the target. */
  FieldStrength middle() {
    return new FieldStrength(belief.fieldLeaving(targetTesla, 0, 0));
  }

  /** The largest field that is safe and does not aim beyond the target. */
  FieldStrength wanted() {
    return safe().compareTo(middle()) < 0 ? safe() : middle();
  }

  /** What a pulse of this field is expected to leave, in tesla. */
  double expectedAfter(FieldStrength field) {
    return belief.levelAfter(field.amperesPerMetre(), delivered).tesla();
  }

  /** The highest level at which a pulse of this field may reasonably leave the magnet, in tesla. */
  double highestAfter(FieldStrength field) {
    MagnetBelief.Level after = belief.levelAfter(field.amperesPerMetre(), delivered);
    return after.tesla() + SIGMAS * Math.hypot(after.uncertainty(), readTesla);
  }

  /** The lowest level at which a pulse of this field may reasonably leave the magnet, in tesla. */
  double lowestAfter(FieldStrength field) {
    MagnetBelief.Level after = belief.levelAfter(field.amperesPerMetre(), delivered);
    return after.tesla() - SIGMAS * Math.hypot(after.uncertainty(), readTesla);
  }
}
