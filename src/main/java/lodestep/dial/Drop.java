package lodestep.dial;

import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import lodestep.quantity.FluxDensity;

/** How far a magnet is to come down from where it is. */
public sealed interface Drop {

  /**
   * By so much flux.
   *
   * @param amount &gt; 0, whichever pole is up
   */
  record By(FluxDensity amount) implements Drop {
    /**
     * @throws IllegalArgumentException if the amount is not above zero
     */
    public By {
      if (!(amount.tesla() > 0)) {
        throw new IllegalArgumentException("down by " + amount.inGauss() + " is not down");
      }
    }
  }

  /**
   * By a part of what it reads.
   *
   * @param fraction above 0, below 1
   */
  record ByPart(double fraction) implements Drop {
    /**
     * @throws IllegalArgumentException if the fraction is not between zero and one
     */
    public ByPart {
      if (!(fraction > 0 && fraction < 1)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "down by %s %% is not between 0 and 100 %%; for 100 %% write demagnetise",
                fraction * 100));
      }
    }
  }

  /**
   * The level this comes to, signed like the reading.
   *
   * @param asFound settled reading before the first pulse, signed
   * @return empty if the magnet reads too little to come down so far
   */
  default Optional<FluxDensity> from(FluxDensity asFound) {
    double size = Math.abs(asFound.tesla());
    double left =
        match(by -> size - by.amount().tesla(), part -> size * (1 - part.fraction())).doubleValue();
    return left > 0
        ? Optional.of(new FluxDensity(Math.copySign(left, asFound.tesla())))
        : Optional.empty();
  }

  /** In words, gauss first: {@code down 40.0 G} or {@code down 12 %}. */
  default String words() {
    return "down " + match(by -> by.amount().inGauss(), part -> Percent.words(part.fraction()));
  }

  /** One arm for each kind. */
  default <R> R match(Function<By, R> by, Function<ByPart, R> byPart) {
    if (this instanceof By amount) {
      return by.apply(amount);
    }
    return byPart.apply((ByPart) this);
  }
}
