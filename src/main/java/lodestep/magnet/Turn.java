package lodestep.magnet;

import org.jspecify.annotations.Nullable;

/**
 * A point where the applied field turned round, on top of the turns before it that it has not wiped
 * out. The lowest is the uncharged origin; the topmost is where the magnet is now.
 *
 * @param appliedAmperesPerMetre applied field; turns are compared by it, since it is exact where
 *     the net field is solved for
 * @param netAmperesPerMetre field inside
 * @param irreversibleTesla irreversible polarisation
 * @param before the turn below, none below the origin
 */
record Turn(
    double appliedAmperesPerMetre,
    double netAmperesPerMetre,
    double irreversibleTesla,
    @Nullable Turn before) {

  static final Turn ORIGIN = new Turn(0, 0, 0, null);

  boolean isOrigin() {
    return before == null;
  }

  /** The turn below; the origin stands on itself. */
  Turn below() {
    return before == null ? this : before;
  }
}
