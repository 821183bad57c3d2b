package lodestep.config;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * The lines that a real rig's [pins] may name, spelled as in the wiring notes. The names stand here
 * as text because the lines themselves are a matter of the ports; a test compares the two.
 *
 * @param needed without any one of these the interlocks are blind or nothing can be driven
 */
record PinNames(List<String> needed) {

  /** What a pulse coil with a bank has beside a switched one. */
  private static final Set<String> BANK = Set.of("bank_fill", "bank_hold", "fill_contact");

  /** What any coil has. */
  private static final Set<String> COIL =
      Set.of(
          "coil_reverse",
          "coil_full",
          "coil_fire",
          "bleed_contact",
          "reverse_contact",
          "full_contact");

  private static final List<String> LADDER =
      IntStream.rangeClosed(1, SupplyConfig.RELAYS_MAX).mapToObj(k -> "ladder_" + k).toList();

  private static final String SEAT = "work_seat";

  /** Lines that any rig may do without, but for the seat switch of one with a jig. */
  static final List<String> OPTIONAL =
      List.of(SEAT, "lamp_ready", "lamp_busy", "lamp_accept", "lamp_refuse", "buzzer");

  /** Every name there is on any rig. */
  static final List<String> ALL =
      Stream.of(
              List.of("bank_fill", "bank_hold", "coil_reverse", "coil_full", "coil_fire"),
              List.of("coil_on"),
              LADDER,
              List.of("jig_enable", "lid_a", "lid_b", "stop_loop", "arm_key", "start_pedal"),
              List.of("fill_contact", "bleed_contact", "reverse_contact", "full_contact"),
              OPTIONAL)
          .flatMap(List::stream)
          .toList();

  /** The lines of a rig with a bank and no jig. */
  static final PinNames WITH_BANK = of(true, Optional.empty(), false);

  /** The lines that the host drives; all others it reads. */
  static final Set<String> OUTPUTS =
      Stream.of(
              List.of("bank_fill", "bank_hold", "coil_reverse", "coil_full", "coil_fire"),
              List.of("coil_on", "jig_enable", "buzzer"),
              List.of("lamp_ready", "lamp_busy", "lamp_accept", "lamp_refuse"),
              LADDER)
          .flatMap(List::stream)
          .collect(Collectors.toUnmodifiableSet());

  PinNames {
    needed = List.copyOf(needed);
  }

  /** The names of a rig with these parts; a coil without this supply has a bank. */
  static PinNames of(boolean coil, Optional<SupplyConfig> supply, boolean jig) {
    int ladder = supply.map(given -> given.ladderOhms().size()).orElse(0);
    return new PinNames(
        ALL.stream()
            // A jig is proven over a nest that is known to be empty with the lid closed.
            .filter(name -> !OPTIONAL.contains(name) || (jig && name.equals(SEAT)))
            .filter(name -> (coil && supply.isEmpty()) || !BANK.contains(name))
            .filter(name -> coil || !COIL.contains(name))
            .filter(name -> supply.isPresent() || !name.equals("coil_on"))
            .filter(name -> LADDER.indexOf(name) < ladder)
            .filter(name -> jig || !name.equals("jig_enable"))
            .toList());
  }

  /** All names that such a rig may have, the needed ones first. */
  List<String> all() {
    return Stream.concat(needed.stream(), OPTIONAL.stream()).distinct().toList();
  }
}
