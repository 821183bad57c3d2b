package lodestep.tidy.planted.quantity;

/** Reads the machine's clock; never called. */
final class ReadsTheClock {

  private ReadsTheClock() {}

  static long now() {
    return System.nanoTime();
  }
}
