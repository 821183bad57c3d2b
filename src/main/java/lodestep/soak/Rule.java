package lodestep.soak;

/**
 * One thing that must hold in every millisecond of every run, written from the list of invariants
 * and not from the interlocks. It may remember; it is asked once a millisecond, in order. Confined
 * to its world.
 */
abstract class Rule {

  private final String id;
  private final String words;

  /**
   * @param id as in the list of invariants, "INV-07"
   * @param words what must hold, half a sentence
   */
  Rule(String id, String words) {
    this.id = id;
    this.words = words;
  }

  String id() {
    return id;
  }

  String words() {
    return words;
  }

  /** Whether it is broken in this millisecond; makes nothing. */
  abstract boolean broken(Witness w);

  /** What was seen when it broke, for a person. */
  String detail(Witness w) {
    return String.format(
        java.util.Locale.ROOT,
        "bank %.2f V, coil %.2f A, asked %x, at the pins %x, state %s, trip %d",
        w.bankVolts,
        w.coilAmps,
        w.asked,
        w.pins,
        w.state,
        w.tripped ? w.tripCode : 0);
  }
}
