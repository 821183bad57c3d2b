package lodestep.config;

import java.util.List;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Voltage;

/**
 * A bench supply that feeds a many-turn coil for a fixed time, and the ladder of series resistors
 * that chooses the current. Any thread, immutable.
 *
 * <p>Each relay of the ladder puts its resistor in parallel to the others, so with each resistor
 * half the one before, the level is a number whose binary digits are the relays, and the current
 * grows by nearly equal steps. The range relay bridges the whole ladder: the charging range, where
 * coil and current limit alone set the current.
 *
 * @param voltage of the supply, at most {@link BankConfig#VOLTS_CAP}
 * @param currentLimit at which the supply holds the current
 * @param ladderOhms from the greatest resistance, of relay {@code ladder_1}, downwards
 * @param dischargeOhms across the coil's feed behind {@code coil_on}, &gt; 0
 * @param onTimeNs how long a pulse lasts
 * @param longestNs after which the hardware timer ends it
 */
public record SupplyConfig(
    Voltage voltage,
    ElectricCurrent currentLimit,
    List<Double> ladderOhms,
    double dischargeOhms,
    long onTimeNs,
    long longestNs) {

  /** No supply: of a rig whose coils are on a bank, or that has none. */
  public static final SupplyConfig NONE =
      new SupplyConfig(new Voltage(0), new ElectricCurrent(0), List.of(), 0, 0, 0);

  /** A ladder has at most this many relays. */
  public static final int RELAYS_MAX = 8;

  public SupplyConfig {
    ladderOhms = List.copyOf(ladderOhms);
  }

  /** The highest level: all relays of the ladder closed. */
  public int levels() {
    return (1 << ladderOhms.size()) - 1;
  }

  /** Resistance in series with the coil at this level, in ohms; infinite at level 0. */
  public double seriesOhms(int level) {
    return 1 / siemens(ladderOhms, level);
  }

  /** Conductance of these resistors at this level: those whose relays are closed, in parallel. */
  static double siemens(List<Double> ladderOhms, int level) {
    double siemens = 0;
    for (int relay = 0; relay < ladderOhms.size(); relay++) {
      siemens += (level >> relay & 1) / ladderOhms.get(relay);
    }
    return siemens;
  }

  /**
   * Current at rest through a coil: I = V / (R<sub>coil</sub> + R<sub>level</sub>), at most the
   * supply's limit. In amperes.
   */
  public double amps(int level, double coilOhms) {
    return Math.min(currentLimit.amps(), voltage.volts() / (coilOhms + seriesOhms(level)));
  }

  /** Current at rest with the ladder bridged, in amperes. */
  public double fullAmps(double coilOhms) {
    return Math.min(currentLimit.amps(), voltage.volts() / coilOhms);
  }
}
