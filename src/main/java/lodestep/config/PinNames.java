package lodestep.config;

import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * The lines that a real rig's [pins] may name, spelled as in the wiring notes. The names stand here
 * as text because the lines themselves are a matter of the ports; a test compares the two.
 */
final class PinNames {

  /** Without any one of these no pulse can be made. */
  private static final List<String> COIL =
      List.of("bank_fill", "bank_hold", "coil_reverse", "coil_full", "coil_fire");

  /** Without any one of these the interlocks are blind, whatever the rig drives. */
  private static final List<String> SAFETY =
      List.of("lid_a", "lid_b", "stop_loop", "arm_key", "start_pedal");

  /** Without any one of these the interlocks do not see what a pulse's relays do. */
  private static final List<String> COIL_CONTACTS =
      List.of("fill_contact", "bleed_contact", "reverse_contact", "full_contact");

  /** Without it no jig moves. */
  private static final List<String> JIG = List.of("jig_enable");

  /** Lines that any rig may do without. */
  private static final List<String> OPTIONAL =
      List.of("work_seat", "lamp_ready", "lamp_busy", "lamp_accept", "lamp_refuse", "buzzer");

  /** All names. */
  static final List<String> ALL =
      Stream.of(COIL, SAFETY, COIL_CONTACTS, JIG, OPTIONAL).flatMap(List::stream).toList();

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

  /** The names that the pins of a rig with these parts must have. */
  static List<String> needed(boolean coil, boolean jig) {
    return ALL.stream()
        .filter(name -> !OPTIONAL.contains(name))
        .filter(name -> coil || !(COIL.contains(name) || COIL_CONTACTS.contains(name)))
        .filter(name -> jig || !JIG.contains(name))
        .toList();
  }

  private PinNames() {}
}
