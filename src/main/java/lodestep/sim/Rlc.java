package lodestep.sim;

/**
 * A capacitor that discharges through a coil and a resistor, solved exactly.
 *
 * <p>With the capacitor's voltage v and the current i it drives: L di/dt = v − R i and C dv/dt =
 * −i. Over a step h the state moves by the matrix exponential exp(A h), which for a matrix of two
 * rows is closed: with α = R / 2L, δ² = α² − 1/LC and B = A + α I (so that B² = δ² I),
 *
 * <pre>exp(A h) = e^(−αh) [ cosh(δh) I + sinh(δh)/δ · B ]</pre>
 *
 * which covers the overdamped (δ² &gt; 0), critical (δ² = 0) and underdamped (δ² &lt; 0, cos and
 * sin) circuit alike. It is the textbook solution (Nilsson and Riedel, Electric Circuits, chapter
 * 8) written as one formula. Any thread, immutable.
 *
 * @param ohms of the whole loop, &ge; 0
 * @param henries &gt; 0
 * @param farads &gt; 0
 */
record Rlc(double ohms, double henries, double farads) {

  /** Below this |δh|² the first terms of the series are exact to a double's last digits. */
  private static final double SERIES_BELOW = 1e-8;

  /** How current and voltage after a step follow from those before it; entries of exp(A h). */
  record Transition(
      double currentFromCurrent,
      double currentFromVoltage,
      double voltageFromCurrent,
      double voltageFromVoltage) {

    double current(double amps, double volts) {
      return currentFromCurrent * amps + currentFromVoltage * volts;
    }

    double voltage(double amps, double volts) {
      return voltageFromCurrent * amps + voltageFromVoltage * volts;
    }
  }

  /** The transition over this step, in seconds. */
  Transition over(double seconds) {
    double alpha = ohms / (2.0 * henries);
    double deltaSquared = alpha * alpha - 1.0 / (henries * farads);
    double argumentSquared = deltaSquared * seconds * seconds;
    double delta = Math.sqrt(Math.abs(deltaSquared));
    double even;
    double odd;
    if (Math.abs(argumentSquared) < SERIES_BELOW) {
      even = 1.0 + argumentSquared / 2.0;
      odd = seconds * (1.0 + argumentSquared / 6.0);
    } else if (deltaSquared > 0) {
      even = Math.cosh(delta * seconds);
      odd = Math.sinh(delta * seconds) / delta;
    } else {
      even = Math.cos(delta * seconds);
      odd = Math.sin(delta * seconds) / delta;
    }
    double decay = Math.exp(-alpha * seconds);
    return new Transition(
        decay * (even - alpha * odd),
        decay * odd / henries,
        -decay * odd / farads,
        decay * (even + alpha * odd));
  }
}
