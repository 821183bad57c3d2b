package lodestep.interlock;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.HeadConfig;
import lodestep.config.JigConfig;
import lodestep.config.Limits;
import lodestep.config.RigConfig;
import lodestep.quantity.Temperature;

/**
 * What the interlocks must know of the rig. Any thread, immutable.
 *
 * @param limits the design's times and levels
 * @param bank what is filled, through which resistances; {@link BankConfig#NONE} if there is none
 * @param switched a switched coil's supply and ladder
 * @param coilTemperatureMax above this the coil, or the motor in its place, is too hot
 * @param jig the reverse jig, if there is one
 * @param headSerialNumber the head that must answer; empty accepts any
 * @param coils whose heat is reckoned beside their thermometer
 */
public record InterlockSettings(
    Limits limits,
    BankConfig bank,
    Optional<SwitchedFigures> switched,
    Temperature coilTemperatureMax,
    Optional<JigConfig> jig,
    String headSerialNumber,
    List<CoilConfig> coils) {

  public InterlockSettings {
    coils = List.copyOf(coils);
  }

  /** For a rig whose bank's coil bears any heat. */
  public InterlockSettings(
      Limits limits,
      BankConfig bank,
      Optional<SwitchedFigures> switched,
      Temperature coilTemperatureMax,
      Optional<JigConfig> jig,
      String headSerialNumber) {
    this(
        limits,
        bank,
        switched,
        coilTemperatureMax,
        jig,
        headSerialNumber,
        switched.map(SwitchedFigures::coils).orElse(List.of()));
  }

  /** For a rig with a bank and no jig. */
  public InterlockSettings(
      Limits limits, BankConfig bank, Temperature coilTemperatureMax, String headSerialNumber) {
    this(limits, bank, Optional.empty(), coilTemperatureMax, Optional.empty(), headSerialNumber);
  }

  /** For a rig that names no head. */
  public InterlockSettings(Limits limits, BankConfig bank, Temperature coilTemperatureMax) {
    this(limits, bank, coilTemperatureMax, "");
  }

  /**
   * The settings for a rig. The head reports one coil and does not say which, so the coil that
   * bears least counts; without a coil its thermometer sits at the jig's motor.
   *
   * @throws IllegalArgumentException if the rig drives nothing
   */
  public static InterlockSettings of(RigConfig rig) {
    Temperature least =
        rig.coils().stream()
            .map(CoilConfig::temperatureMax)
            .min(Comparator.naturalOrder())
            .or(() -> rig.jig().map(JigConfig::temperatureMax))
            .orElseThrow(
                () -> new IllegalArgumentException("rig " + rig.name() + " drives nothing"));
    String head = rig.head() instanceof HeadConfig.SerialHead serial ? serial.serialNumber() : "";
    Optional<SwitchedFigures> switched =
        rig.supply().map(supply -> new SwitchedFigures(supply, rig.coils()));
    return new InterlockSettings(
        rig.limits(), rig.bank(), switched, least, rig.jig(), head, rig.coils());
  }

  /** Time from one scan to the next, in nanoseconds. */
  public long scanPeriodNs() {
    return limits.scanPeriodNs();
  }

  /** A scan later than this does not count as on time, in nanoseconds. */
  public long scanLateNs() {
    return limits.scanLateFireWaitsNs();
  }
}
