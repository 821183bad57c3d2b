package lodestep.config;

import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * The lines that a real rig's [pins] may name, spelled as in the wiring notes. The names stand here
 * as text because the lines themselves are a matter of the ports; a test compares the two.
 */
final class PinNames {

  /** Without any one of these the interlocks are blind or a pulse cannot be made. */
  static final List<String> NEEDED =
      List.of(
          "bank_fill",
          "bank_hold",
          "coil_reverse",
          "coil_full",
          "coil_fire",
          "lid_a",
          "lid_b",
          "stop_loop",
          "arm_key",
          "start_pedal",
          "fill_contact",
          "bleed_contact",
          "reverse_contact",
          "full_contact");

  /** Lines that a rig may do without. */
  static final List<String> OPTIONAL =
      List.of(
          "work_seat",
          "jig_enable",
          "lamp_ready",
          "lamp_busy",
          "lamp_accept",
          "lamp_refuse",
          "buzzer");

  /** All names, the needed ones first. */
  static final List<String> ALL = Stream.concat(NEEDED.stream(), OPTIONAL.stream()).toList();

  /** The lines that the host drives; all others it reads. */
  static final Set<String> OUTPUTS =
      Set.of(
          "bank_fill",
          "bank_hold",
          "coil_reverse",
          "coil_full",
          "coil_fire",
          "jig_enable",
          "lamp_ready",
          "lamp_busy",
          "lamp_accept",
          "lamp_refuse",
          "buzzer");

  private PinNames() {}
}
