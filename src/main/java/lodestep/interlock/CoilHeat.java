package lodestep.interlock;

import java.util.List;
import lodestep.config.CoilConfig;
import lodestep.quantity.Temperature;

/**
 * What pulses leave in a coil, by current, time and energy alone. Any thread, immutable.
 *
 * @param coils of the rig whose heat is reckoned; the head reports one and does not say which
 * @param bankFarads the bank that feeds them; 0 where a supply does
 */
record CoilHeat(List<CoilConfig> coils, double bankFarads) {

  /** A warm bench in summer, from which the coil's rise is reckoned; starting value. */
  private static final double WARM_BENCH_DEG_C = 30.0;

  CoilHeat {
    coils = coils.stream().filter(coil -> Double.isFinite(coil.heatJoulesPerKelvin())).toList();
  }

  /** Whether there is a coil to reckon for. */
  boolean present() {
    return !coils.isEmpty();
  }

  /**
   * After a pulse of a supply that the switch ends: I²t R, the current taken at its peak
   * throughout.
   *
   * @param action squared current by time, in A²s
   */
  Warmth afterCurrent(Warmth before, double action, long nowNs) {
    return after(before, nowNs, (coil, ohms) -> action * ohms);
  }

  /**
   * After a pulse of the bank, which may have any form: what the bank has lost, &frac12;C(V² - V²),
   * less what the series resistor of the knock-down range takes of it, by resistance.
   *
   * @param full whether the series resistor was bridged
   */
  Warmth afterBank(
      Warmth before, int beforeMilliVolts, int afterMilliVolts, boolean full, long nowNs) {
    double from = beforeMilliVolts * 1e-3;
    double to = afterMilliVolts * 1e-3;
    double joules = Math.max(0, bankFarads / 2 * (from * from - to * to));
    return after(
        before, nowNs, (coil, ohms) -> full ? joules : joules * ohms / (ohms + coil.seriesOhms()));
  }

  private Warmth after(Warmth before, long nowNs, Joules joules) {
    double most = 0;
    double least = Double.MAX_VALUE;
    for (CoilConfig coil : coils) {
      most = Math.max(most, rise(before.most, before.atNs, coil, joules, nowNs));
      least = Math.min(least, rise(before.least, before.atNs, coil, joules, nowNs));
    }
    return new Warmth(most, least, nowNs);
  }

  private static double rise(double kelvin, long atNs, CoilConfig coil, Joules joules, long nowNs) {
    double kept = kept(kelvin, atNs, nowNs, coil);
    double ohms = coil.ohmsAt(Temperature.ofDegC(WARM_BENCH_DEG_C + kept));
    return kept + joules.in(coil, ohms) / coil.heatJoulesPerKelvin();
  }

  /** Whether this rise, seen at this time, leaves every coil so much below its limit. */
  boolean bears(Warmth warmth, long nowNs, double belowKelvin) {
    for (CoilConfig coil : coils) {
      double degC = WARM_BENCH_DEG_C + kept(warmth.most, warmth.atNs, nowNs, coil);
      if (degC + belowKelvin > coil.temperatureMax().degC()) {
        return false;
      }
    }
    return true;
  }

  /** What is left at this time of the least of the rises, in kelvins. */
  double leastLeft(Warmth warmth, long nowNs) {
    double left = Double.MAX_VALUE;
    for (CoilConfig coil : coils) {
      left = Math.min(left, kept(warmth.least, warmth.atNs, nowNs, coil));
    }
    return left;
  }

  /** All of it dies away with heat capacity times cooling. */
  private static double kept(double kelvin, long atNs, long nowNs, CoilConfig coil) {
    double seconds = (nowNs - atNs) * 1e-9;
    return kelvin * Math.exp(-seconds / (coil.heatJoulesPerKelvin() * coil.coolingKelvinPerWatt()));
  }

  /** What a pulse leaves in a coil of this resistance. */
  private interface Joules {
    double in(CoilConfig coil, double ohms);
  }

  /**
   * The rise above a warm bench by the pulses alone, whatever the thermometer says.
   *
   * @param most of the coil that bears least, in kelvins
   * @param least of the coil that takes most, in kelvins
   */
  record Warmth(double most, double least, long atNs) {
    static final Warmth NONE = new Warmth(0, 0, 0);
  }
}
