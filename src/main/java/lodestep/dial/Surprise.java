package lodestep.dial;

/**
 * How far a magnet's first readings lie off what its lot promised, in standard deviations of what
 * was promised; signed.
 *
 * @param full of the full charge
 * @param fullOff by which part it lies off
 * @param field of the field that its first knock-down showed it to need; zero before that
 * @param ownShare of that promise's variance, what is from magnet to magnet; zero before that
 */
record Surprise(double full, double fullOff, double field, double ownShare) {

  /** A magnet that surprises by more is none of its lot. */
  static final double STRANGE = 5;

  /** With the first knock-down's; a later one surprises nobody by the lot. */
  Surprise withField(double sigmas, double newOwnShare) {
    return ownShare > 0 ? this : new Surprise(full, fullOff, sigmas, newOwnShare);
  }

  boolean isStrangeFull() {
    return Math.abs(full) > STRANGE;
  }

  /** Whether the magnet is unlike its lot. */
  boolean isStrange() {
    return isStrangeFull() || Math.abs(field) > STRANGE;
  }
}
