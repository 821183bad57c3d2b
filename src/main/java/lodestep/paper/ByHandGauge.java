package lodestep.paper;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.ledger.MagnetHistory;
import lodestep.measure.HandGaugeRelation;
import lodestep.measure.StandardUncertainty;
import lodestep.port.StockEvent.TargetTold;
import lodestep.quantity.FluxDensity;

/**
 * Levels as a hand gauge tells them, each by the relation of that gauge to the nest in which the
 * magnet was read. Any thread, immutable.
 *
 * @param gauge what the winder calls it
 * @param relations one for each level, in the same order
 */
public record ByHandGauge(String gauge, List<HandGaugeRelation> relations) {

  public ByHandGauge {
    relations = List.copyOf(relations);
  }

  /**
   * What the gauge reads of a level on the mean.
   *
   * @param at which of the levels
   * @throws IllegalArgumentException with one sentence, if the level is outside the relation
   */
  HandGaugeRelation.Level reads(int at, Certificate.Level level) {
    return relations
        .get(at)
        .hand(
            new FluxDensity(level.tesla()),
            new StandardUncertainty(level.standardUncertainty(), Double.POSITIVE_INFINITY));
  }

  /** As asked on this gauge; else the nest's target, turned into this gauge's. */
  String asked(int at, Certificate.Level level) {
    Optional<TargetTold> told =
        told(level.history()).filter(target -> target.gauge().equalsIgnoreCase(gauge));
    double ratio = relations.get(at).ratio();
    return told.map(target -> band(target.targetMicroTesla(), target.toleranceMicroTesla()))
        .orElseGet(
            () ->
                band(
                    Math.round(ratio * level.verdict().targetMicroTesla()),
                    Math.round(ratio * level.verdict().toleranceMicroTesla())));
  }

  /** The target of a magnet as a hand gauge told it; empty if the nest did. */
  static Optional<TargetTold> told(MagnetHistory history) {
    return history.happenings().stream()
        .map(MagnetHistory.Happening::what)
        .flatMap(
            what ->
                what instanceof MagnetHistory.What.Corrected of
                        && of.event() instanceof TargetTold target
                    ? Optional.of(target).stream()
                    : Optional.<TargetTold>empty().stream())
        .reduce((earlier, later) -> later);
  }

  /** Targets that a hand gauge told, where it does not tell the levels as well; may be empty. */
  static String otherwise(List<Certificate.Level> levels, Optional<ByHandGauge> by) {
    StringBuilder words = new StringBuilder();
    for (Certificate.Level level : levels) {
      told(level.history())
          .filter(
              target ->
                  by.stream().noneMatch(hand -> hand.gauge().equalsIgnoreCase(target.gauge())))
          .ifPresent(
              target ->
                  words
                      .append(' ')
                      .append(level.history().identity().name())
                      .append(" was asked for as ")
                      .append(band(target.targetMicroTesla(), target.toleranceMicroTesla()))
                      .append(" G by ")
                      .append(target.gauge())
                      .append('.'));
    }
    return words.toString();
  }

  static String band(long targetMicroTesla, long toleranceMicroTesla) {
    return Told.gauss(Math.abs(targetMicroTesla * 1e-6), 1)
        + " ± "
        + Told.gauss(toleranceMicroTesla * 1e-6, 1);
  }

  /** By what the levels were turned into this gauge's, for people. */
  String words() {
    List<String> written = relations.stream().map(HandGaugeRelation::written).distinct().toList();
    double scatter = relations.stream().mapToDouble(HandGaugeRelation::scatter).max().orElse(0);
    return "Levels are told as "
        + gauge
        + " reads them on the mean, reckoned from the rig's own readings in its nest: "
        + String.join("; ", written)
        + ". One reading of that gauge scatters by "
        + String.format(Locale.ROOT, "%.2f", 100 * scatter)
        + " per cent about it.";
  }
}
