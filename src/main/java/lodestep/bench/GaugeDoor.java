package lodestep.bench;

import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import lodestep.config.NestConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.quantity.Length;

/**
 * Whether the gauge may accept anything: one that was found out of control may not, until a check
 * finds it in control again. Pure.
 */
public final class GaugeDoor {

  private GaugeDoor() {}

  /**
   * Why no work may begin, what and what to do; empty if it may. A nest that was never checked is
   * not held up: its gauge has not been found wanting. One whose spacer has been changed since is,
   * for its check was of another nest.
   *
   * @param nests the work's
   */
  public static Optional<String> refusal(GaugeRecord record, Collection<NestConfig> nests) {
    List<String> wrong =
        nests.stream()
            .distinct()
            .sorted(Comparator.comparing(NestConfig::name))
            .flatMap(nest -> refusal(record, nest).stream())
            .toList();
    return wrong.isEmpty()
        ? Optional.empty()
        : Optional.of(String.join(System.lineSeparator(), wrong));
  }

  private static Optional<String> refusal(GaugeRecord record, NestConfig nest) {
    return record
        .standing(nest.name())
        .flatMap(judged -> judged.inControl() ? changed(record, judged, nest) : wanting(judged));
  }

  private static Optional<String> wanting(GaugeJudged judged) {
    return Optional.of(
        "the gauge in the "
            + judged.nest()
            + " is out of control by the reference "
            + judged.reference()
            + " ("
            + judged.why()
            + "), and accepts nothing; see to it and check it again: "
            + check(judged));
  }

  private static Optional<String> changed(GaugeRecord record, GaugeJudged judged, NestConfig nest) {
    return record
        .judgedBy(judged)
        .map(ReferenceRead::standOffMicroMetres)
        .filter(then -> then != nest.standOff().microMetres())
        .map(
            then ->
                "the "
                    + nest.name()
                    + " was checked at "
                    + Length.ofMicroMetres(then).written()
                    + " from the face and reads at "
                    + nest.standOff().written()
                    + " now; read its reference before any work: "
                    + check(judged));
  }

  private static String check(GaugeJudged judged) {
    return "lodestep gauge check --reference \"" + judged.reference() + "\"";
  }
}
