package lodestep.interlock;

import java.util.List;
import lodestep.config.CoilConfig;
import lodestep.config.SupplyConfig;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.quantity.Temperature;

/**
 * What the interlocks must know of a switched coil. Any thread, immutable.
 *
 * @param supply what feeds it
 * @param coils of the rig; the head reports one and does not say which
 */
public record SwitchedFigures(SupplyConfig supply, List<CoilConfig> coils) {

  /** A warm bench in summer, from which the coil's rise is reckoned; starting value. */
  private static final double WARM_BENCH_DEG_C = 30.0;

  /** Supply, resistors, copper and the head's channel together; starting value. */
  private static final double LEVEL_FRACTION = 0.12;

  /** Beside that part: the head's noise, and what the smallest levels are off by. */
  private static final double LEVEL_MILLI_AMPS = 60.0;

  public SwitchedFigures {
    coils = List.copyOf(coils);
  }

  /** Level of the ladder that these outputs close. */
  static int level(Outputs outputs) {
    int level = 0;
    for (int index = 0; index < OutputLine.LADDER.size(); index++) {
      level |= outputs.isHigh(OutputLine.LADDER.get(index)) ? 1 << index : 0;
    }
    return level;
  }

  /** The currents that these outputs may let through the coil, in milliamperes. */
  Between current(Outputs outputs, double coilDegC) {
    double least = Double.MAX_VALUE;
    double most = 0;
    for (CoilConfig coil : coils) {
      double ohms = coil.ohmsAt(Temperature.ofDegC(coilDegC));
      double amps =
          outputs.isHigh(OutputLine.COIL_FULL)
              ? supply.fullAmps(ohms)
              : supply.amps(level(outputs), ohms);
      least = Math.min(least, amps);
      most = Math.max(most, amps);
    }
    return new Between(
        (int) (least * 1e3 * (1 - LEVEL_FRACTION) - LEVEL_MILLI_AMPS),
        (int) (most * 1e3 * (1 + LEVEL_FRACTION) + LEVEL_MILLI_AMPS));
  }

  /** What these coils come to by reckoning alone, of those that bear least. */
  Warmth warmer(Warmth before, double action, long nowNs) {
    double most = 0;
    for (CoilConfig coil : coils) {
      double kept = before.keptUntil(nowNs, coil);
      double ohms = ohms(coil, WARM_BENCH_DEG_C + kept);
      most = Math.max(most, kept + action * ohms / coil.heatJoulesPerKelvin());
    }
    return new Warmth(most, nowNs);
  }

  /** Whether this rise, seen at this time, leaves every coil so much below its limit. */
  boolean bears(Warmth warmth, long nowNs, double belowKelvin) {
    for (CoilConfig coil : coils) {
      double degC = WARM_BENCH_DEG_C + warmth.keptUntil(nowNs, coil);
      if (degC + belowKelvin > coil.temperatureMax().degC()) {
        return false;
      }
    }
    return true;
  }

  private static double ohms(CoilConfig coil, double degC) {
    return coil.ohmsAt(Temperature.ofDegC(degC));
  }

  /**
   * The coil's rise above a warm bench by its pulses alone, whatever its thermometer says: each
   * leaves I²t R over the heat capacity, and all of it dies away with heat capacity times cooling.
   *
   * @param kelvin rise at that time
   */
  record Warmth(double kelvin, long atNs) {

    static final Warmth NONE = new Warmth(0, 0);

    double keptUntil(long nowNs, CoilConfig coil) {
      double seconds = (nowNs - atNs) * 1e-9;
      return kelvin
          * Math.exp(-seconds / (coil.heatJoulesPerKelvin() * coil.coolingKelvinPerWatt()));
    }
  }

  /** Two limits of a current, in milliamperes. */
  record Between(int least, int most) {

    boolean holds(int milliAmps) {
      return milliAmps >= least && milliAmps <= most;
    }
  }
}
