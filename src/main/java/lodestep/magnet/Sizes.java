package lodestep.magnet;

/** What every size has to be. */
final class Sizes {

  private Sizes() {}

  /**
   * @throws IllegalArgumentException naming the size, if it is not a number above zero
   */
  static void requireAboveZero(String what, double metres) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(metres > 0 && metres < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(what + " has to be above zero: " + metres + " m");
    }
  }
}
