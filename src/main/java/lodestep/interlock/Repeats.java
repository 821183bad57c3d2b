package lodestep.interlock;

/**
 * How often a value has come again unchanged.
 *
 * @param value the last value
 * @param count how many times in a row it has repeated; 0 when it was new
 */
record Repeats(int value, int count) {

  static final Repeats NONE = new Repeats(Integer.MIN_VALUE, 0);

  Repeats step(int newest) {
    return new Repeats(newest, newest == value ? count + 1 : 0);
  }
}
