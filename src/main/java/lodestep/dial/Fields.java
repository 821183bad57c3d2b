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
  }
}
