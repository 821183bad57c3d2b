package lodestep.dial;

import java.util.Optional;
import java.util.function.Function;
import lodestep.quantity.FluxDensity;

/** What is to become of a magnet. Any thread, immutable. */
public sealed interface Task {

  /**
   * Charge, then knock down to a level.
   *
   * @param target signed as the gauge reads it, not zero
   * @param tolerance half width of the band, above zero and below the size of the target
   */
  record ToLevel(FluxDensity target, FluxDensity tolerance) implements Task {
    /**
     * @throws IllegalArgumentException if the target is zero, or the tolerance is not above zero
     *     and below the size of the target
     */
    public ToLevel {
      double size = Math.abs(target.tesla());
      if (!(size > 0)) {
        throw new IllegalArgumentException("a target of nothing is written: demagnetise");
      }
      if (!(tolerance.tesla() > 0 && tolerance.tesla() < size)) {
        throw new IllegalArgumentException(
            "the tolerance "
                + tolerance.inGauss()
                + " is not between zero and the target "
                + target.inGauss());
      }
    }
  }

  /**
   * Knock down from where it is, with no charge; a magnet that would have to go up is refused.
   *
   * @param tolerance a part means a part of the level it comes to
   */
  record DownBy(Drop drop, Tolerance tolerance) implements Task {

    /**
     * The level this comes to for one magnet.
     *
     * @param asFound its settled reading before the first pulse, signed
     * @return empty if it reads too little to come down so far and keep its pole
     */
    public Optional<ToLevel> from(FluxDensity asFound) {
      return drop.from(asFound)
          .filter(target -> tolerance.halfWidthAt(target).tesla() < Math.abs(target.tesla()))
          .map(target -> new ToLevel(target, tolerance.halfWidthAt(target)));
    }
  }

  /**
   * Take all of it away.
   *
   * @param limit the largest reading, of either sign, that counts as uncharged; &gt; 0
   */
  record Demagnetise(FluxDensity limit) implements Task {

    /**
     * What counts as uncharged when a plan does not say: well above what a gauge beside a bench
     * wanders, well below anything heard. Common practice, no source.
     */
    public static final FluxDensity UNCHARGED = FluxDensity.ofGauss(5);

    /**
     * @throws IllegalArgumentException if the limit is not above zero
     */
    public Demagnetise {
      if (!(limit.tesla() > 0)) {
        throw new IllegalArgumentException(
            "the uncharged limit " + limit.inGauss() + " is not above zero");
      }
    }
  }

  /**
   * Charge it as hard as the rig can, prove that it is full, and say what it reads: for stock that
   * comes in, and for a magnet that is to be as strong as it gets.
   */
  record FullCharge() implements Task {

    /** A stronger charge moves a full magnet by less than this part (IEC 60404-5, from memory). */
    public static final double MOVED_FRACTION = 0.01;
  }

  /** As it stands in records: "level", "down-by", "demagnetise" or "full-charge". */
  default String word() {
    return match(
        level -> "level", down -> "down-by", none -> DEMAGNETISE_WORD, full -> FULL_CHARGE_WORD);
  }

  /** Nothing left, as it stands in records. */
  String DEMAGNETISE_WORD = "demagnetise";

  /** A full charge, as it stands in records. */
  String FULL_CHARGE_WORD = "full-charge";

  /** Whether an attempt begins with a charge. */
  default boolean charges() {
    return match(level -> true, down -> false, none -> false, full -> true);
  }

  /** The target in words, gauss first and signed: {@code -430.0 G}, {@code down 12 %}. */
  default String targetWords() {
    return match(
        level -> level.target().inGauss(),
        down -> down.drop().words(),
        none -> word(),
        full -> "full charge");
  }

  /**
   * Half width of the band in words: {@code 8.0 G}, or {@code 2 %} where the level is to come, or
   * by which a stronger charge may move a full one.
   */
  default String toleranceWords() {
    return match(
        level -> level.tolerance().inGauss(),
        down -> down.tolerance().words(),
        none -> none.limit().inGauss(),
        full -> Percent.words(FullCharge.MOVED_FRACTION));
  }

  /** One arm for each kind. */
  default <R> R match(
      Function<ToLevel, R> toLevel,
      Function<DownBy, R> downBy,
      Function<Demagnetise, R> demagnetise,
      Function<FullCharge, R> fullCharge) {
    if (this instanceof ToLevel level) {
      return toLevel.apply(level);
    }
    if (this instanceof DownBy down) {
      return downBy.apply(down);
    }
    if (this instanceof FullCharge full) {
      return fullCharge.apply(full);
    }
    return demagnetise.apply((Demagnetise) this);
  }
}
