package lodestep.config;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Resistance;
import lodestep.quantity.Voltage;

/** Reads [supply] and refuses one that could hurt, or a ladder that is none. */
final class SupplyReader {

  private static final int RELAYS_MIN = 3;

  /** Beyond this the feed is not low within the half second the interlocks allow. */
  private static final double DISCHARGE_OHMS_MAX = 1000.0;

  private static final double AMPS_MAX = 30.0;

  /** Eddies and the coil's own rise are over after a few hundredths of a second. */
  private static final long ON_MS_MIN = 20;

  /** The head's window closes after 300 ms; the hardware timer has to come before it. */
  private static final long LONGEST_MS_MAX = 250;

  /** The gate falls up to two scans late. */
  private static final long TIMER_MARGIN_MS = 20;

  /**
   * Steps that differ by more than this are no equal steps: two resistors stand in wrong places.
   */
  private static final double STEPS_RATIO_MAX = 6.0;

  private SupplyReader() {}

  static Optional<SupplyConfig> read(Section section) {
    Optional<Voltage> voltage = section.quantity("voltage", "48 V", Voltage::parse);
    Optional<ElectricCurrent> limit =
        section.quantity("current_limit", "12 A", ElectricCurrent::parse);
    Optional<List<Double>> ladder =
        section
            .quantities("ladder", "[\"2.05 kΩ\", \"1.02 kΩ\", \"511 Ω\"]", Resistance::parse)
            .map(resistors -> resistors.stream().map(Resistance::ohms).toList());
    Optional<Resistance> discharge =
        section.quantity("discharge_resistor", "470 Ω", Resistance::parse);
    long on = section.whole("on_time_ms", ON_MS_MIN, LONGEST_MS_MAX).orElse(ON_MS_MIN);
    long longest = section.whole("longest_pulse_ms", ON_MS_MIN, LONGEST_MS_MAX).orElse(0);
    voltage.ifPresent(volts -> checkVoltage(section, volts));
    limit.ifPresent(amps -> checkLimit(section, amps));
    discharge.ifPresent(ohms -> checkDischarge(section, ohms));
    ladder.ifPresent(ohms -> checkLadder(section, ohms));
    if (longest > 0 && longest < on + TIMER_MARGIN_MS) {
      section.refuse(
          "longest_pulse_ms",
          "the hardware timer would cut every pulse: 'longest_pulse_ms' must be at least "
              + (on + TIMER_MARGIN_MS)
              + ", which is 'on_time_ms' and "
              + TIMER_MARGIN_MS);
    }
    if (!section.end()) {
      return Optional.empty();
    }
    return Optional.of(
        new SupplyConfig(
            voltage.orElseThrow(),
            limit.orElseThrow(),
            ladder.orElseThrow(),
            discharge.orElseThrow().ohms(),
            on * 1_000_000,
            longest * 1_000_000));
  }

  private static void checkVoltage(Section section, Voltage voltage) {
    if (!(voltage.volts() >= 10 && voltage.volts() <= BankConfig.VOLTS_CAP)) {
      section.refuse(
          "voltage",
          said(
              "'voltage' must be 10 V to %.0f V, not %s", BankConfig.VOLTS_CAP, voltage.written()));
    }
  }

  private static void checkLimit(Section section, ElectricCurrent limit) {
    if (!(limit.amps() >= 1 && limit.amps() <= AMPS_MAX)) {
      section.refuse(
          "current_limit",
          said("'current_limit' must be 1 A to %.0f A, not %s", AMPS_MAX, limit.written()));
    }
  }

  private static void checkDischarge(Section section, Resistance discharge) {
    if (!(discharge.ohms() > 0 && discharge.ohms() <= DISCHARGE_OHMS_MAX)) {
      section.refuse(
          "discharge_resistor",
          said("'discharge_resistor' must be above zero and at most %.0f Ω", DISCHARGE_OHMS_MAX));
    }
  }

  private static void checkLadder(Section section, List<Double> ladder) {
    if (ladder.size() < RELAYS_MIN || ladder.size() > SupplyConfig.RELAYS_MAX) {
      section.refuse(
          "ladder",
          said(
              "'ladder' must name %d to %d resistors, one for each relay, not %d",
              RELAYS_MIN, SupplyConfig.RELAYS_MAX, ladder.size()));
      return;
    }
    double least = Double.MAX_VALUE;
    double most = 0;
    double below = 0;
    for (int level = 1; level < 1 << ladder.size(); level++) {
      double siemens = SupplyConfig.siemens(ladder, level);
      least = Math.min(least, siemens - below);
      most = Math.max(most, siemens - below);
      below = siemens;
    }
    if (!(least > 0 && most <= STEPS_RATIO_MAX * least)) {
      section.refuse(
          "ladder",
          "'ladder' does not give rising, nearly equal steps; begin with the greatest resistance"
              + " and make each about half the one before");
    }
  }

  private static String said(String format, Object... figures) {
    return String.format(Locale.ROOT, format, figures);
  }
}
