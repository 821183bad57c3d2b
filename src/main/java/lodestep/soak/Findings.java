package lodestep.soak;

/** Takes down that a law was seen broken. */
@FunctionalInterface
interface Findings {

  /** The first one is kept and ends the run. */
  void broken(Law law, String detail);
}
