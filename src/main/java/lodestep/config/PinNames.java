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
 * @param needed without any one of these the interlocks are blind or a pulse cannot be made
 */
record PinNames(List<String> needed) {

  /** The lines of a rig with a bank. */
  static final PinNames WITH_BANK =
      new PinNames(
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
              "full_contact"));

  /** Of those, what a switched coil has not. */
  private static final Set<String> OF_A_BANK = Set.of("bank_fill", "bank_hold", "fill_contact");

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

  private static final List<String> LADDER =
      IntStream.rangeClosed(1, SupplyConfig.RELAYS_MAX).mapToObj(k -> "ladder_" + k).toList();

  /** Every name there is on any rig. */
  static final List<String> ALL =
      Stream.of(WITH_BANK.needed, List.of("coil_on"), LADDER, OPTIONAL)
          .flatMap(List::stream)
          .toList();

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

  /** The names of a rig with a bank, or with this supply. */
  static PinNames of(Optional<SupplyConfig> supply) {
    return supply
        .map(
            ladder ->
                Stream.of(
                        Stream.of("coil_on"),
                        LADDER.subList(0, ladder.ladderOhms().size()).stream(),
                        WITH_BANK.needed.stream().filter(name -> !OF_A_BANK.contains(name)))
                    .flatMap(names -> names)
                    .toList())
        .map(PinNames::new)
        .orElse(WITH_BANK);
  }

  /** All names of such a rig, the needed ones first. */
  List<String> all() {
    return Stream.concat(needed.stream(), OPTIONAL.stream()).toList();
  }
}
