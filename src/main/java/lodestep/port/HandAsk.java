package lodestep.port;

/** What a person at a head with no actuator is asked to do now. */
public enum HandAsk {
  /** Leave the seat empty and everything magnetic away, and say so. */
  LEAVE_EMPTY,
  /** Put the magnet in the nest, and say so. */
  SEAT,
  /** Charge the magnet so that the gauge's face becomes north, put it back, and say so. */
  CHARGE_NORTH,
  /** The same so that the gauge's face becomes south. */
  CHARGE_SOUTH,
  /** Bring the opposing magnet slowly closer, like poles facing. */
  CLOSER,
  /** Stop, and take the opposing magnet right away. */
  AWAY,
  /** Keep hands off while the gauge is read. */
  WAIT,
  /** Take the magnet out of the nest. */
  TAKE_OUT,
  /** Something is wrong: look, and say when it goes on. */
  LOOK
}
