package lodestep.voice;

/**
 * A pickup's coil with its cable and what it works into: a source with the coil's resistance and
 * inductance in series, and capacitance and load across its ends. Losses in metal parts are left
 * out, so that a real peak is lower. Any thread, immutable.
 *
 * @param henry of the coil, &gt; 0
 * @param ohms of the coil, &gt; 0
 * @param farad of coil and cable together, &gt; 0
 * @param loadOhms of potentiometers and amplifier together, &gt; 0
 */
public record CoilCircuit(double henry, double ohms, double farad, double loadOhms) {

  /**
   * @throws IllegalArgumentException naming the figure that is missing or no coil's
   */
  public CoilCircuit {
    require(henry, farad);
    CoilBounds.RESISTANCE.require(ohms, ohms + " ohm");
    CoilBounds.LOAD.require(loadOhms, loadOhms + " ohm");
  }

  /**
   * What stands at the ends for each volt induced, as a ratio of magnitudes. Voltage divider of the
   * textbooks (J. W. Nilsson, S. A. Riedel, Electric Circuits; from memory): 1/((1 +
   * R/R<sub>load</sub> - &omega;&sup2;LC) + i&omega;(RC + L/R<sub>load</sub>)).
   */
  public double gain(double hertz) {
    double omega = 2 * Math.PI * hertz;
    double real = 1 + ohms / loadOhms - omega * omega * henry * farad;
    double imaginary = omega * (ohms * farad + henry / loadOhms);
    return 1 / Math.hypot(real, imaginary);
  }

  /** The same in decibels beside that of low notes. */
  public double decibels(double hertz) {
    return 20 * Math.log10(gain(hertz) / gain(0));
  }

  /** Of coil and capacitance without any loss: 1/(2&pi;&radic;(LC)). */
  public double resonanceHertz() {
    return 1 / (2 * Math.PI * Math.sqrt(henry * farad));
  }

  /**
   * Where the gain is largest; 0 where it falls from the start. From the derivative of the gain's
   * square: &omega;&sup2; = a/(LC) - b&sup2;/(2(LC)&sup2;), a and b the divider's two parts.
   */
  public double peakHertz() {
    double both = henry * farad;
    double damping = ohms * farad + henry / loadOhms;
    double square = (1 + ohms / loadOhms) / both - damping * damping / (2 * both * both);
    return square <= 0 ? 0 : Math.sqrt(square) / (2 * Math.PI);
  }

  /**
   * Refuses an inductance or a capacitance that is no coil's.
   *
   * @throws IllegalArgumentException naming it
   */
  static void require(double henry, double farad) {
    CoilBounds.INDUCTANCE.require(henry, henry + " H");
    CoilBounds.CAPACITANCE.require(farad, farad + " F");
  }
}
