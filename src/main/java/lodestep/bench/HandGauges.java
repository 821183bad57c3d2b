package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lodestep.config.NestConfig;
import lodestep.dial.RecordedShape;
import lodestep.dial.Task;
import lodestep.ledger.GaugeRecord;
import lodestep.magnet.Shape;
import lodestep.measure.HandGaugeRelation;
import lodestep.measure.StandardUncertainty;
import lodestep.measure.UncertaintyBudget;
import lodestep.port.GaugeEvent.HandGaugeRelated;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * The hand gauges whose relation to a nest is known. Any thread, immutable.
 *
 * @param relations as they are on record, oldest first; the newest of a kind stands
 */
public record HandGauges(List<HandGaugeRelated> relations) {

  /** None known. */
  public static final HandGauges NONE = new HandGauges(List.of());

  private static final double PARTS_PER_MILLION = 1e6;

  /** With what probability a magnet inside the narrowed band is inside the one that was asked. */
  private static final double PROBABILITY = 0.95;

  public HandGauges {
    relations = List.copyOf(relations);
  }

  /** Those on record, up to this event; a batch that goes on keeps those it was begun with. */
  public static HandGauges of(GaugeRecord record, long upTo) {
    return new HandGauges(
        record.relations().stream()
            .filter(entry -> entry.number() <= upTo)
            .map(GaugeRecord.Entry::event)
            .toList());
  }

  /** A relation as it goes on record. */
  public static HandGaugeRelated entry(String gauge, NestConfig nest, Shape shape, Found found) {
    HandGaugeRelation relation = found.relation();
    return new HandGaugeRelated(
        gauge,
        nest.name(),
        nest.standOff().microMetres(),
        RecordedShape.words(shape),
        RecordedShape.sizesMicroMetres(shape),
        Math.round(relation.ratio() * PARTS_PER_MILLION),
        Math.round(relation.uncertainty().value() * PARTS_PER_MILLION),
        Math.round(Math.min(1e9, relation.uncertainty().degreesOfFreedom() * 1e3)),
        Math.round(relation.scatter() * PARTS_PER_MILLION),
        relation.from().microTesla(),
        relation.to().microTesla(),
        found.magnets(),
        found.source());
  }

  /** The gauges of which a relation is on record, as they were first written. */
  public List<String> names() {
    List<String> names = new ArrayList<>();
    for (HandGaugeRelated entry : relations) {
      if (names.stream().noneMatch(entry.gauge()::equalsIgnoreCase)) {
        names.add(entry.gauge());
      }
    }
    return names;
  }

  /** A relation that was found. */
  public record Found(HandGaugeRelation relation, int magnets, String source) {}

  /** The relation of an entry. */
  public static HandGaugeRelation relation(HandGaugeRelated entry) {
    return new HandGaugeRelation(
        entry.ratioPartsPerMillion() / PARTS_PER_MILLION,
        new StandardUncertainty(
            entry.uncertaintyPartsPerMillion() / PARTS_PER_MILLION,
            entry.freedomThousandths() / 1e3),
        entry.scatterPartsPerMillion() / PARTS_PER_MILLION,
        FluxDensity.ofMicroTesla(entry.fromMicroTesla()),
        FluxDensity.ofMicroTesla(entry.toMicroTesla()));
  }

  /**
   * A task that a hand gauge can tell.
   *
   * @throws IllegalArgumentException with one sentence, if only the nest can
   */
  static Task.ToLevel level(Task task) {
    if (task instanceof Task.ToLevel level) {
      return level;
    }
    throw new IllegalArgumentException(
        "'"
            + task.targetWords()
            + "' is told by the nest alone; leave this cell empty, or ask for a level");
  }

  /**
   * How a hand gauge relates to this nest for this shape.
   *
   * @throws IllegalArgumentException with one sentence, if it is not on record
   */
  HandGaugeRelation relation(String gauge, NestConfig nest, Shape shape) {
    return relation(known(gauge, nest, shape));
  }

  /**
   * What the nest must read for a level told by a hand gauge; the tolerance is narrowed by what the
   * relation is not known to.
   *
   * @throws IllegalArgumentException with one sentence, if there is no relation, or it does not
   *     reach, or it is known too poorly for this tolerance
   */
  Task inNest(String gauge, NestConfig nest, Shape shape, Task.ToLevel level) {
    HandGaugeRelation relation = relation(gauge, nest, shape);
    HandGaugeRelation.Level target = relation.nest(level.target());
    double factor =
        UncertaintyBudget.coverage(PROBABILITY, target.uncertainty().degreesOfFreedom());
    double lost = factor * target.uncertainty().value();
    double left = relation.nestWidth(level.tolerance()).tesla() - lost;
    if (!(left > 0)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "the relation of '%s' to the %s is known to ± %.1f G at this level only; ask for a"
                  + " wider tolerance, or pair more magnets",
              gauge,
              nest.name(),
              new FluxDensity(lost * relation.ratio()).gauss()));
    }
    return new Task.ToLevel(target.value(), new FluxDensity(left));
  }

  /**
   * How a hand gauge relates to the nest in which a magnet on record was read.
   *
   * @param standOffMicroMetres at which it was read
   * @throws IllegalArgumentException with one sentence, if it is not on record
   */
  public HandGaugeRelation relation(String gauge, MagnetNamed named, long standOffMicroMetres) {
    return relation(
        new Wanted(
                gauge,
                named.nest(),
                standOffMicroMetres,
                named.shape(),
                named.sizesMicroMetres(),
                RecordedShape.of(named).words())
            .among(relations));
  }

  private HandGaugeRelated known(String gauge, NestConfig nest, Shape shape) {
    return new Wanted(
            gauge,
            nest.name(),
            nest.standOff().microMetres(),
            RecordedShape.words(shape),
            RecordedShape.sizesMicroMetres(shape),
            shape.words())
        .among(relations);
  }

  /** What a relation has to be of. */
  private record Wanted(
      String gauge,
      String nest,
      long standOffMicroMetres,
      String shape,
      List<Long> sizesMicroMetres,
      String words) {

    /** The newest. */
    HandGaugeRelated among(List<HandGaugeRelated> relations) {
      return relations.stream()
          .filter(entry -> entry.gauge().equalsIgnoreCase(gauge))
          .filter(entry -> entry.nest().equals(nest))
          .filter(entry -> entry.standOffMicroMetres() == standOffMicroMetres)
          .filter(entry -> entry.shape().equals(shape))
          .filter(entry -> entry.sizesMicroMetres().equals(sizesMicroMetres))
          .reduce((earlier, later) -> later)
          .orElseThrow(
              () ->
                  new IllegalArgumentException(
                      "how '"
                          + gauge
                          + "' relates to the "
                          + nest
                          + " at "
                          + Length.ofMicroMetres(standOffMicroMetres).written()
                          + " is not on record for a "
                          + words
                          + "; pair a few such magnets: lodestep gauge relation --help"));
    }
  }
}
