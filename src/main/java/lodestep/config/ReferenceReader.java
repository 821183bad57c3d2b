package lodestep.config;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Nearest;

/** Makes the records of reference magnets from a rig's file. */
final class ReferenceReader {

  private ReferenceReader() {}

  /**
   * Every {@code [[reference]]}; none if there is none.
   *
   * @param nests the rig's; empty if one of them is refused, and then not compared with
   */
  static List<ReferenceConfig> read(Section root, List<NestConfig> nests) {
    List<ReferenceConfig> references = new ArrayList<>();
    for (Section section :
        root.mayHave("reference") ? root.tables("reference") : List.<Section>of()) {
      Optional<ReferenceConfig> reference = reference(section, nests);
      reference
          .filter(given -> references.stream().anyMatch(other -> same(other, given)))
          .ifPresent(
              given ->
                  section.refuse(
                      "name",
                      "there is already a reference '"
                          + given.name()
                          + "' of the nest '"
                          + given.nest()
                          + "'"));
      reference.ifPresent(references::add);
    }
    return references;
  }

  private static boolean same(ReferenceConfig one, ReferenceConfig other) {
    return one.name().equals(other.name()) && one.nest().equals(other.nest());
  }

  private static Optional<ReferenceConfig> reference(Section section, List<NestConfig> nests) {
    Optional<String> name = RigReader.name(section, "check rod 1");
    Optional<FluxDensity> value = section.quantity("value", "455 G", FluxDensity::parse);
    Optional<FluxDensity> uncertainty = section.quantity("uncertainty", "2 G", FluxDensity::parse);
    Optional<String> nest = section.text("nest", "rod nest");
    Optional<String> date = section.text("date", "2026-03-14");
    if (value.isPresent() && value.get().tesla() == 0) {
      section.refuse("value", "a reference that reads nothing tells nothing of the gain");
    }
    if (uncertainty.isPresent() && !(uncertainty.get().tesla() > 0)) {
      section.refuse("uncertainty", "'uncertainty' must be greater than zero");
    }
    List<String> names = nests.stream().map(NestConfig::name).toList();
    if (nest.isPresent() && !names.isEmpty() && !names.contains(nest.get())) {
      section.refuse(
          "nest",
          "there is no nest '"
              + nest.get()
              + "'; the nests are "
              + names
              + Nearest.hint(nest.get(), names));
    }
    if (date.isPresent() && !isDate(date.get())) {
      section.refuse("date", "'date' is the certificate's, written like \"2026-03-14\"");
    }
    return section.end()
        ? Optional.of(
            new ReferenceConfig(
                name.orElseThrow(),
                value.orElseThrow(),
                uncertainty.orElseThrow(),
                nest.orElseThrow(),
                date.orElseThrow()))
        : Optional.empty();
  }

  private static boolean isDate(String text) {
    try {
      LocalDate.parse(text);
      return true;
    } catch (DateTimeParseException wrong) {
      return false;
    }
  }
}
