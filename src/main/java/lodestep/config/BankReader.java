package lodestep.config;

import java.util.Locale;
import java.util.Optional;
import lodestep.quantity.Capacitance;
import lodestep.quantity.Energy;
import lodestep.quantity.Resistance;
import lodestep.quantity.Voltage;

/** Reads [bank] and refuses a bank that could hurt, or could not do its work. */
final class BankReader {

  /** A slower bleeder leaves the bank filled too long, a quicker one fights the fill supply. */
  private static final double BLEEDER_SECONDS_MIN = 30.0;

  private static final double BLEEDER_SECONDS_MAX = 60.0;

  /**
   * The bleed contact must have the bank low by then: the time in which IEC 60204-1, 6.2.4, wants
   * stored energy gone after switch-off (from a translated clause, not the text itself).
   */
  private static final double BLEED_SECONDS_MAX = 5.0;

  /** The bank is filled a little above the voltage asked, so that much must be within reach. */
  private static final double REACH_OVER_ASKED = 1.005;

  private BankReader() {}

  static Optional<BankConfig> read(Section section) {
    Optional<Capacitance> capacitance =
        section.quantity("capacitance", "22 mF", Capacitance::parse);
    Optional<Voltage> highest = section.quantity("highest_voltage", "46 V", Voltage::parse);
    Optional<Voltage> supply = section.quantity("supply_voltage", "48 V", Voltage::parse);
    Optional<Resistance> fill = section.quantity("fill_resistor", "47 Ω", Resistance::parse);
    Optional<Resistance> bleeder = section.quantity("bleeder", "2.0 kΩ", Resistance::parse);
    Optional<Resistance> bleed = section.quantity("bleed_resistor", "22 Ω", Resistance::parse);
    String newSince = NewSince.read(section);
    highest.ifPresent(voltage -> checkVoltage(section, "highest_voltage", voltage));
    supply.ifPresent(voltage -> checkVoltage(section, "supply_voltage", voltage));
    if (!section.end()) {
      return Optional.empty();
    }
    BankConfig bank =
        new BankConfig(
            capacitance.orElseThrow().farads(),
            highest.orElseThrow(),
            supply.orElseThrow(),
            fill.orElseThrow().ohms(),
            bleeder.orElseThrow().ohms(),
            bleed.orElseThrow().ohms(),
            newSince);
    checkEnergy(section, bank);
    checkBleeder(section, bank);
    checkBleed(section, bank);
    checkReach(section, bank);
    return section.end() ? Optional.of(bank) : Optional.empty();
  }

  private static void checkVoltage(Section section, String key, Voltage voltage) {
    if (!(voltage.volts() > 0 && voltage.volts() <= BankConfig.VOLTS_CAP)) {
      section.refuse(
          key,
          said(
              "'%s' is %s; it must be above zero and never over %.0f V, where touch becomes a"
                  + " hazard",
              key, voltage.written(), BankConfig.VOLTS_CAP));
    }
  }

  /** The supply's voltage decides: that much the bank reaches when a fill relay welds. */
  private static void checkEnergy(Section section, BankConfig bank) {
    Energy most = Energy.inCapacitor(bank.capacitanceFarads(), bank.supplyVoltage());
    if (most.joules() > BankConfig.JOULES_CAP) {
      section.refuse(
          "capacitance",
          said(
              "this bank would hold %s at the supply's %s; at most %.0f J are allowed, so take less"
                  + " capacitance",
              most.written(), bank.supplyVoltage().written(), BankConfig.JOULES_CAP));
    }
  }

  private static void checkBleeder(Section section, BankConfig bank) {
    double seconds = bank.bleederOhms() * bank.capacitanceFarads();
    if (!(seconds >= BLEEDER_SECONDS_MIN && seconds <= BLEEDER_SECONDS_MAX)) {
      section.refuse(
          "bleeder",
          said(
              "bleeder times capacitance is %.0f s; it must be %.0f to %.0f s, so take a bleeder of"
                  + " %.1f to %.1f kΩ",
              seconds,
              BLEEDER_SECONDS_MIN,
              BLEEDER_SECONDS_MAX,
              BLEEDER_SECONDS_MIN / bank.capacitanceFarads() * 1e-3,
              BLEEDER_SECONDS_MAX / bank.capacitanceFarads() * 1e-3));
    }
  }

  private static void checkBleed(Section section, BankConfig bank) {
    double seconds = bank.bleedSeconds(Limits.standard().bankLow());
    if (seconds > BLEED_SECONDS_MAX) {
      section.refuse(
          "bleed_resistor",
          said(
              "the bleed contact would take %.1f s to bring the bank low; at most %.0f s are"
                  + " allowed, so take a smaller resistor",
              seconds, BLEED_SECONDS_MAX));
    }
  }

  private static void checkReach(Section section, BankConfig bank) {
    double reachedVolts = bank.reachedVoltage().volts();
    if (bank.voltageMax().volts() * REACH_OVER_ASKED > reachedVolts) {
      section.refuse(
          "highest_voltage",
          said(
              "the bank cannot reach %s: against the bleeder the supply brings it to %.2f V; ask at"
                  + " most %.1f V or take a smaller fill resistor",
              bank.voltageMax().written(),
              reachedVolts,
              Math.floor(reachedVolts / REACH_OVER_ASKED * 10) / 10));
    }
  }

  private static String said(String format, Object... figures) {
    return String.format(Locale.ROOT, format, figures);
  }
}
