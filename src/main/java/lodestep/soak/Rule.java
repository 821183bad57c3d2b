package lodestep.soak;

import java.util.Locale;

/**
 * Judges one law in every millisecond of a run. It is written from the law and not from the
 * interlocks; it may remember, and is asked once a millisecond, in order. Confined to its world.
 */
abstract class Rule {

  private final Law law;

  /**
   * @param id as in {@link Law}, "INV-07"
   * @param words what must hold, half a sentence
   */
  Rule(String id, String words) {
    this.law = new Law(id, words);
  }

  Law law() {
    return law;
  }

  /** Whether it is broken in this millisecond; makes nothing. */
  abstract boolean broken(Witness w);

  /** What was seen when it broke, for a person. */
  String detail(Witness w) {
    return String.format(
        Locale.ROOT,
        "bank %.2f V, coil %.2f A, asked %x, at the pins %x, state %s, trip %d",
        w.bankVolts,
        w.coilAmps,
        w.asked,
        w.pins,
        w.state,
        w.tripped ? w.tripCode : 0);
  }
}
