package lodestep.soak;

/** Takes down that a rule was seen broken. */
@FunctionalInterface
interface Findings {

  /** The first one is kept and ends the run. */
  void broken(String rule, String words, String detail);
}
