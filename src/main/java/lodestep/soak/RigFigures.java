package lodestep.soak;

import java.util.Optional;
import lodestep.config.CoilConfig;
import lodestep.config.JigConfig;
import lodestep.config.RigConfig;
import lodestep.quantity.Temperature;

/**
 * The figures of a rig by which the rules judge it. Any thread, immutable.
 *
 * @param coilKelvinMax highest temperature of use of any of its coils, of its motor if it has none
 * @param bank whether it has a bank
 * @param supply whether a supply feeds its coils
 * @param gateMsMax after which a hardware timer ends a pulse, or the fire window does
 * @param jig its jig, if it has one
 */
record RigFigures(
    double coilKelvinMax, boolean bank, boolean supply, long gateMsMax, Optional<JigConfig> jig) {

  private static final long WINDOW_MS = 300;
  private static final long NS_PER_MS = 1_000_000L;

  static RigFigures of(RigConfig rig) {
    double kelvin =
        rig.coils().stream()
            .map(CoilConfig::temperatureMax)
            .max(Temperature::compareTo)
            .or(() -> rig.jig().map(JigConfig::temperatureMax))
            .orElseThrow()
            .kelvin();
    long gateMs = rig.supply().map(supply -> supply.longestNs() / NS_PER_MS).orElse(WINDOW_MS);
    return new RigFigures(kelvin, rig.hasBank(), rig.supply().isPresent(), gateMs, rig.jig());
  }

  /** A pulse coil on a bank. */
  static RigFigures ofBank(double coilKelvinMax) {
    return new RigFigures(coilKelvinMax, true, false, WINDOW_MS, Optional.empty());
  }
}
