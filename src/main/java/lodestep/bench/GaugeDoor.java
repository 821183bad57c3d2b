package lodestep.bench;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.GaugeRecord;

/**
 * Whether the gauge may accept anything: one that was found out of control may not, until a check
 * finds it in control again. Pure.
 */
public final class GaugeDoor {

  private GaugeDoor() {}

  /**
   * Why no work may begin, what and what to do; empty if it may. A nest that was never checked is
   * not held up: its gauge has not been found wanting.
   *
   * @param nests the work's
   */
  public static Optional<String> refusal(GaugeRecord record, Collection<String> nests) {
    List<String> wrong =
        nests.stream()
            .distinct()
            .sorted()
            .flatMap(nest -> record.standing(nest).stream())
            .filter(judged -> !judged.inControl())
            .map(
                judged ->
                    "the gauge in the "
                        + judged.nest()
                        + " is out of control by the reference "
                        + judged.reference()
                        + " ("
                        + judged.why()
                        + "), and accepts nothing; see to it and check it again: lodestep gauge"
                        + " check --reference \""
                        + judged.reference()
                        + "\"")
            .toList();
    return wrong.isEmpty()
        ? Optional.empty()
        : Optional.of(String.join(System.lineSeparator(), wrong));
  }
}
