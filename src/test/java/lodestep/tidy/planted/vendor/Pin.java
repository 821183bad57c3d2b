package lodestep.tidy.planted.vendor;

/** Stands for a library's output pin. */
public final class Pin {

  /** Stands for the library's own timed write. */
  public void pulse() {}
}
