package lodestep.voice;

import java.util.function.ToDoubleFunction;

/** What a coil's figures can be. Common practice, no source. */
enum CoilBounds {
  INDUCTANCE(Said.INDUCTANCE, 0.05, 30, "a coil's inductance is 0.05 to 30 H"),
  RESISTANCE(Said.RESISTANCE, 50, 60_000, "a coil's resistance is 50 ohm to 60 kohm"),
  CAPACITANCE(Said.CAPACITANCE, 1e-11, 2e-8, "the capacitance of coil and cable is 10 pF to 20 nF"),
  LOAD(Said.LOAD, 1e4, 1e8, "what a coil works into is 10 kohm to 100 Mohm");

  private final Said field;
  private final double least;
  private final double most;
  private final String words;

  /**
   * @param least in the SI unit
   */
  CoilBounds(Said field, double least, double most, String words) {
    this.field = field;
    this.least = least;
    this.most = most;
    this.words = words;
  }

  /**
   * Refuses a value that is none of these.
   *
   * @throws IllegalArgumentException with the bounds
   */
  void require(double value, String written) {
    if (!(value >= least && value <= most)) {
      throw new IllegalArgumentException(words + ", not " + written);
    }
  }

  /**
   * What is said of it.
   *
   * @param sign before a field's word in a refusal
   * @throws IllegalArgumentException with one sentence that names the field
   */
  double read(String sign, PickupWords said, ToDoubleFunction<String> reader) {
    String text = said.get(field);
    String word = sign + field.word();
    double value = PickupAsked.said(word, () -> told(text, reader));
    PickupAsked.said(
        word,
        () -> {
          require(value, text);
          return text;
        });
    return value;
  }

  private double told(String text, ToDoubleFunction<String> reader) {
    try {
      return reader.applyAsDouble(text);
    } catch (IllegalArgumentException wrong) {
      throw new IllegalArgumentException(wrong.getMessage() + "; " + words, wrong);
    }
  }
}
