package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.quantity.FieldStrength;

/** The peak fields that one act of a source can have, without sign. Any thread, immutable. */
public sealed interface Fields {

  /** The strongest. */
  FieldStrength most();

  /** The strongest that is not above this one; empty if even the weakest is. */
  Optional<FieldStrength> atMost(FieldStrength wanted);

  /** The weakest that is stronger than this one by more than can be told; empty above the last. */
  Optional<FieldStrength> above(FieldStrength last);

  /** Whether it has certain fields and none between them. */
  default boolean isStepped() {
    return this instanceof Levels;
  }

  /** A field that grows by less than this is the same field again, as well as the head can tell. */
  double LEAST_GROWTH = 1.001;

  /**
   * Any between the two.
   *
   * @param least &gt; 0
   * @param most at least the least
   */
  record Continuous(FieldStrength least, FieldStrength most) implements Fields {
    @Override
    public Optional<FieldStrength> atMost(FieldStrength wanted) {
      if (wanted.compareTo(least) < 0) {
        return Optional.empty();
      }
      return Optional.of(wanted.compareTo(most) > 0 ? most : wanted);
    }

    @Override
    public Optional<FieldStrength> above(FieldStrength last) {
      double next = Math.max(least.amperesPerMetre(), last.amperesPerMetre() * LEAST_GROWTH);
      return next > most.amperesPerMetre()
          ? Optional.empty()
          : Optional.of(new FieldStrength(next));
    }
  }

  /**
   * These and nothing between them.
   *
   * @param rising from the weakest to the strongest, at least one
   */
  record Levels(List<FieldStrength> rising) implements Fields {
    public Levels {
      rising = List.copyOf(rising);
    }

    @Override
    public FieldStrength most() {
      return rising.get(rising.size() - 1);
    }

    @Override
    public Optional<FieldStrength> atMost(FieldStrength wanted) {
      return rising.stream().filter(level -> level.compareTo(wanted) <= 0).reduce((a, b) -> b);
    }

    @Override
    public Optional<FieldStrength> above(FieldStrength last) {
      double least = last.amperesPerMetre() * LEAST_GROWTH;
      return rising.stream().filter(level -> level.amperesPerMetre() > least).findFirst();
    }
  }
}
