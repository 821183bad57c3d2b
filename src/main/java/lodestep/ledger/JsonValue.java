package lodestep.ledger;

import java.util.List;

/**
 * A value of the canonical form: text, a whole number, a truth value, or a list of whole numbers.
 * Nothing else stands in a record: fractions are scaled to whole units, and nothing is absent.
 */
sealed interface JsonValue {

  /**
   * Largest whole number, without its sign, that every JSON reader takes exactly: 2<sup>53</sup>
   * &minus; 1 (RFC 7493, section 2.2).
   */
  long WHOLE_MAX = (1L << 53) - 1;

  /** The value as a record's component holds it. */
  Object plain();

  /** Text; any Unicode text without lone surrogates. */
  record Text(String value) implements JsonValue {
    @Override
    public Object plain() {
      return value;
    }
  }

  /** A whole number within &plusmn;{@link #WHOLE_MAX}. */
  record Whole(long value) implements JsonValue {
    public Whole {
      checkRange(value);
    }

    @Override
    public Object plain() {
      return value;
    }
  }

  /** True or false. */
  record Truth(boolean value) implements JsonValue {
    @Override
    public Object plain() {
      return value;
    }
  }

  /** A list of whole numbers, each within &plusmn;{@link #WHOLE_MAX}; may be empty. */
  record Wholes(List<Long> value) implements JsonValue {
    public Wholes {
      value = List.copyOf(value);
      value.forEach(JsonValue::checkRange);
    }

    @Override
    public Object plain() {
      return value;
    }
  }

  private static void checkRange(long value) {
    if (value > WHOLE_MAX || value < -WHOLE_MAX) {
      throw new IllegalArgumentException(
          "the number " + value + " is too large for a record; the limit is " + WHOLE_MAX);
    }
  }
}
