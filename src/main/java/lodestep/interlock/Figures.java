package lodestep.interlock;

import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.config.Limits;

/**
 * The settings in the units of the head's lines, worked out once.
 *
 * @param fillEndMilliVolts what the bank would come to if it were filled for ever
 * @param fillTimeConstantNs of the filling bank
 * @param bleedTimeConstantNs of the bleeding bank, the permanent bleeder not counted
 * @param bleederTimeConstantNs of the bank that is held, by its permanent bleeder alone
 * @param bank whether there is a bank
 * @param switched a switched coil's supply and ladder; such a rig has no bank, and what is said of
 *     the bank is said of the coil's feed
 * @param coil whether the rig has a coil, with its relays and their mirror contacts
 * @param heat of the rig's coils
 * @param jig the jig's figures
 * @param headSerialNumber the head that must answer; empty accepts any
 * @param headBuild what that head must have been built with
 */
record Figures(
    Limits limits,
    int bankLowMilliVolts,
    int bankCapMilliVolts,
    int bankOverMilliVolts,
    int currentZeroMilliAmps,
    int coilCentiDegCMax,
    double fillEndMilliVolts,
    double fillTimeConstantNs,
    double bleedTimeConstantNs,
    double bleederTimeConstantNs,
    boolean bank,
    Optional<SwitchedFigures> switched,
    boolean coil,
    CoilHeat heat,
    JigFigures jig,
    String headSerialNumber,
    HeadBuild headBuild) {

  private static final double NS_PER_S = 1e9;

  /** A feed with the greatest discharge resistor that rig.toml may name, and 100 µF. */
  private static final double FEED_TIME_CONSTANT_NS = 0.1 * NS_PER_S;

  /**
   * A bank C filled from V through R<sub>f</sub> with the bleeder R<sub>b</sub> across it comes to
   * V R<sub>b</sub> / (R<sub>f</sub> + R<sub>b</sub>) with the time constant C (R<sub>f</sub>
   * parallel R<sub>b</sub>): the source's Thévenin equivalent.
   */
  static Figures of(InterlockSettings settings) {
    Limits limits = settings.limits();
    BankConfig bank = settings.bank();
    boolean there = !bank.equals(BankConfig.NONE);
    boolean coil = there || settings.switched().isPresent();
    double sum = bank.fillOhms() + bank.bleederOhms();
    double parallel = bank.fillOhms() * bank.bleederOhms() / sum;
    return new Figures(
        limits,
        limits.bankLow().milliVolts(),
        (int) Math.round(BankConfig.VOLTS_CAP * 1e3),
        // A rig without a coil must not have one on its wires that nobody told of.
        coil ? limits.bankOver().milliVolts() : limits.bankLow().milliVolts(),
        (int) Math.round(limits.currentZero().amps() * 1e3),
        (int) Math.round(settings.coilTemperatureMax().degC() * 100),
        there ? bank.supplyVoltage().volts() * 1e3 * bank.bleederOhms() / sum : 0,
        there ? parallel * bank.capacitanceFarads() * NS_PER_S : 0,
        settings.switched().isPresent()
            ? FEED_TIME_CONSTANT_NS
            : bank.bleedOhms() * bank.capacitanceFarads() * NS_PER_S,
        bank.bleederOhms() * bank.capacitanceFarads() * NS_PER_S,
        there,
        settings.switched(),
        coil,
        new CoilHeat(settings.coils(), bank.capacitanceFarads()),
        JigFigures.of(settings.jig()),
        settings.headSerialNumber(),
        HeadBuild.of(settings));
  }
}
