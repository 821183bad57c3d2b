package lodestep.dial;

import java.util.Locale;
import java.util.function.Function;
import lodestep.quantity.FluxDensity;

/** How far from its target a magnet may end: the half width of the band, in flux or in parts. */
public sealed interface Tolerance {

  /**
   * The same band at every level.
   *
   * @param halfWidth &gt; 0
   */
  record Fixed(FluxDensity halfWidth) implements Tolerance {
    /**
     * @throws IllegalArgumentException if the half width is not above zero
     */
    public Fixed {
      if (!(halfWidth.tesla() > 0)) {
        throw new IllegalArgumentException(
            "the tolerance " + halfWidth.inGauss() + " is not above zero");
      }
    }
  }

  /**
   * A part of the target level; after a "down by", of the level that comes to.
   *
   * @param fraction above 0, below 1
   */
  record OfTarget(double fraction) implements Tolerance {
    /**
     * @throws IllegalArgumentException if the fraction is not between zero and one
     */
    public OfTarget {
      if (!(fraction > 0 && fraction < 1)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT, "the tolerance %s %% is not between 0 and 100 %%", fraction * 100));
      }
    }
  }

  /** The half width at this target, signed or not; &gt; 0 unless the target is zero. */
  default FluxDensity halfWidthAt(FluxDensity target) {
    return match(
        Fixed::halfWidth, part -> new FluxDensity(part.fraction() * Math.abs(target.tesla())));
  }

  /** In words, gauss first: {@code 8.0 G} or {@code 2 %}. */
  default String words() {
    return match(fixed -> fixed.halfWidth().inGauss(), part -> Percent.words(part.fraction()));
  }

  /** One arm for each kind. */
  default <R> R match(Function<Fixed, R> fixed, Function<OfTarget, R> ofTarget) {
    if (this instanceof Fixed band) {
      return fixed.apply(band);
    }
    return ofTarget.apply((OfTarget) this);
  }
}
