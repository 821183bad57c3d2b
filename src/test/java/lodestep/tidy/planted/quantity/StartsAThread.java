package lodestep.tidy.planted.quantity;

/** Works with threads, and sleeps; never called. */
final class StartsAThread {

  private StartsAThread() {}

  static void pause() throws InterruptedException {
    Thread.sleep(1);
  }
}
