package lodestep.soak;

import java.util.Locale;
import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.sim.Fault;
import lodestep.sim.RelayName;

/**
 * One thing that happens in a soak run. Any thread, immutable.
 *
 * @param atMs when it begins, in milliseconds since the rig was switched on
 * @param forMs how long it lasts, &gt; 0; of a killed host how long until it is started again
 * @param on what it happens to; empty when there is no choice
 * @param value its figure, in the kind's own unit; 0 when it has none
 */
public record Happening(HappeningKind kind, long atMs, long forMs, String on, double value) {

  /**
   * @throws IllegalArgumentException if a figure is out of its range, or there is no such thing
   */
  public Happening {
    if (atMs < 0 || forMs <= 0) {
      throw new IllegalArgumentException(
          kind.words() + " at " + atMs + " ms for " + forMs + " ms: it must begin and last");
    }
    if (!kind.on().contains(on)) {
      throw new IllegalArgumentException(
          kind.words() + " on '" + on + "': must be one of " + kind.on());
    }
    if (!kind.hasValue() ? value != 0 : !(value >= kind.lowest() && value <= kind.highest())) {
      throw new IllegalArgumentException(
          kind.words() + " of " + value + ": must be " + kind.lowest() + " to " + kind.highest());
    }
  }

  /** When it is over, in milliseconds since the rig was switched on. */
  long untilMs() {
    return atMs + forMs;
  }

  /** The same at another time. */
  Happening at(long newAtMs, long newForMs) {
    return new Happening(kind, newAtMs, newForMs, on, value);
  }

  /** Which of the things it can happen to, from 0. */
  int onIndex() {
    return kind.on().indexOf(on);
  }

  /** One line for a person. */
  public String written() {
    String where = on.isEmpty() ? "" : ", " + on;
    String how = kind.hasValue() ? String.format(Locale.ROOT, ", %.4g", value) : "";
    return String.format(
        Locale.ROOT,
        "%8.3f s  for %8.3f s  %s%s%s",
        atMs * 1e-3,
        forMs * 1e-3,
        kind.words(),
        where,
        how);
  }

  /** The fault of the virtual rig, if it is one. */
  Optional<Fault> fault() {
    return switch (kind) {
      case RELAY_PULLED -> Optional.of(new Fault.RelayStuck(relay(), true));
      case RELAY_RELEASED -> Optional.of(new Fault.RelayStuck(relay(), false));
      case RELAY_WELDED -> Optional.of(new Fault.RelayWelded(relay()));
      case CONTACT_CLOSED -> Optional.of(new Fault.ContactStuck(input(), true));
      case CONTACT_OPEN -> Optional.of(new Fault.ContactStuck(input(), false));
      case HOST_WIRE -> Optional.of(new Fault.HostWireBroken(input()));
      case HEAD_WIRE -> Optional.of(new Fault.HeadWireBroken(input()));
      case INPUT_FLIPPED -> Optional.of(new Fault.InputFlipped(input()));
      case PULSE_NOISE -> Optional.of(new Fault.PulseNoise());
      case OUTPUT_HIGH -> Optional.of(new Fault.OutputStuck(output(), true));
      case OUTPUT_LOW -> Optional.of(new Fault.OutputStuck(output(), false));
      case HEAD_SILENT -> Optional.of(new Fault.HeadSilent());
      case HEAD_HUNG -> Optional.of(new Fault.HeadHung());
      case HEAD_DOWN -> Optional.of(new Fault.HeadDown());
      case CABLE_PULLED -> Optional.of(new Fault.CablePulled());
      case LINES_DAMAGED -> Optional.of(new Fault.LinesDamaged(value));
      case GAUGE_FROZEN -> Optional.of(new Fault.GaugeFrozen());
      case COIL_SENSOR -> Optional.of(new Fault.CoilSensor(way()));
      case THERMOSTAT_OPEN -> Optional.of(new Fault.ThermostatOpen());
      case HOST_PAUSED -> Optional.of(new Fault.HostPaused());
      default -> powerFault();
    };
  }

  private Optional<Fault> powerFault() {
    return switch (kind) {
      case BANK_SENSE -> Optional.of(new Fault.BankSense(value));
      case BANK_LEAK -> Optional.of(new Fault.BankLeak(value));
      case SUPPLY_WRONG -> Optional.of(new Fault.SupplyWrong(value));
      case BLEED_OPEN -> Optional.of(new Fault.BleedPathOpen());
      case CAPACITANCE_LOST -> Optional.of(new Fault.CapacitanceLost(value));
      case TURNS_SHORTED -> Optional.of(new Fault.TurnsShorted(value));
      case SWITCH_SHORTED -> Optional.of(new Fault.SwitchShorted());
      case SWITCH_OPEN -> Optional.of(new Fault.SwitchOpen());
      case DIODE_MISSING -> Optional.of(new Fault.DiodeMissing());
      case TIMER_DEAD -> Optional.of(new Fault.TimerDead());
      default -> jigFault();
    };
  }

  private Optional<Fault> jigFault() {
    boolean home = on.equals("home");
    return switch (kind) {
      case LIMIT_CLOSED -> Optional.of(new Fault.JigSwitchStuck(home, true));
      case LIMIT_OPEN -> Optional.of(new Fault.JigSwitchStuck(home, false));
      case LIMIT_FLICKERS -> Optional.of(new Fault.JigSwitchFlickers(home));
      case JIG_JAMMED -> Optional.of(new Fault.JigStalled());
      case STEPS_LOST -> Optional.of(new Fault.JigStepsLost(value));
      case MOTOR_REVERSED -> Optional.of(new Fault.JigReversed());
      case DRIVER_RUNS_ON -> Optional.of(new Fault.JigRunsOn());
      case OPPOSING_LOST -> Optional.of(new Fault.JigMagnetLost());
      default -> Optional.empty();
    };
  }

  private RelayName relay() {
    return RelayName.valueOf(constant());
  }

  private InputLine input() {
    return InputLine.valueOf(constant());
  }

  private OutputLine output() {
    return OutputLine.valueOf(constant());
  }

  private Fault.CoilSensor.Way way() {
    return Fault.CoilSensor.Way.valueOf(constant());
  }

  private String constant() {
    return on.toUpperCase(Locale.ROOT).replace(' ', '_');
  }
}
