package lodestep.port;

/** What a person asks of the running job, from the command line or the page. */
public enum Command {
  /** Let go of everything now: outputs low, the magnet in the nest open. Latches like a trip. */
  STOP,
  /** Go on with the plan after a trip, a refusal of the rig or a restart. */
  CONTINUE,
  /** After the magnet in the nest, wait. */
  PAUSE,
  /** After the magnet in the nest, end the batch; the rest stays open. */
  FINISH,
  /** What is asked of a person's hands cannot be done: go on without it. */
  SKIP
}
