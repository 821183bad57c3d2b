package lodestep.tidy.planted.quantity;

/** Shares state that changes. */
final class SharedCounter {

  private static int count;

  private SharedCounter() {}

  static int next() {
    count++;
    return count;
  }
}
