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

  /** Two limits of a current, in milliamperes. */
  record Between(int least, int most) {

    boolean holds(int milliAmps) {
      return milliAmps >= least && milliAmps <= most;
    }
  }
}
