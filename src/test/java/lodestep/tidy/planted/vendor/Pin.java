package lodestep.tidy.planted.vendor;

/** Stands for a library's output pin. */
public final class Pin {

  /** Stands for the library's own timed write. */
  public void pulse() {}

  /** The same by another of its names. */
  public void pulseHigh() {}

  /** Stands for its blind change of level. */
  public void toggle() {}
}
