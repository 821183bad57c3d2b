package lodestep.bench;

import java.util.Optional;
import lodestep.config.NestConfig;
import lodestep.dial.Keep;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.magnet.Alloy;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.measure.HandGaugeRelation;
import lodestep.measure.SettledReading;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent;
import lodestep.quantity.FluxDensity;

/**
 * One row of a plan: a magnet, or several alike. Any thread, immutable.
 *
 * @param line line of the plan's text on which the row begins, from 1
 * @param name name or serial, 1 to {@value #NAME_CHARACTERS_MAX} printable characters
 * @param set the set the magnets belong to
 * @param magnet alloy, shape and sizes, and what such a magnet reads
 * @param nest where they are worked, a nest of this rig for this shape
 * @param poleUp the face the gauge reads; of no meaning when demagnetising
 * @param count how many, 1 to {@value #COUNT_MAX}
 * @param lot the supplier's lot the magnets came from
 * @param keep what each is to keep beside its target
 * @param winding around each, in a finished pickup; empty for a magnet by itself
 * @param readAt where it is read by hand, and which figure counts; empty for the nest's place alone
 * @param told target and tolerance as a hand gauge tells them; empty when the nest does
 * @param spread how far the set's magnets may differ from one another, as a part of their targets;
 *     empty where this row says nothing of it
 */
public record PlanRow(
    int line,
    String name,
    Optional<String> set,
    FaceModel magnet,
    NestConfig nest,
    PoleUp poleUp,
    Task task,
    int count,
    Optional<String> lot,
    Keep keep,
    Optional<WoundPickup> winding,
    Optional<PointsAsked> readAt,
    Optional<Told> told,
    Optional<Double> spread) {

  /**
   * A target as it was told by a hand gauge.
   *
   * @param gauge what the winder calls it
   * @param level target and tolerance on that gauge
   * @param relation of that gauge to the nest
   */
  public record Told(String gauge, Task.ToLevel level, HandGaugeRelation relation) {

    /** What that gauge is to read where the nest reads this; empty outside the relation's range. */
    public Optional<HandGaugeRelation.Level> reads(SettledReading nest) {
      return relation.holdsFor(new FluxDensity(relation.ratio() * nest.value().tesla()))
          ? Optional.of(relation.hand(nest.value(), nest.uncertainty()))
          : Optional.empty();
    }

    /** As it goes on record of a magnet. */
    LedgerEvent entry(long magnet) {
      return new StockEvent.TargetTold(
          magnet,
          gauge,
          level.target().microTesla(),
          level.tolerance().microTesla(),
          Math.round(relation.ratio() * 1e6),
          Math.round(relation.uncertainty().value() * 1e6));
    }

    /** For people: {@code 415.0 G ± 12.0 G by shelf gauge}. */
    public String words() {
      return level.targetWords() + " ± " + level.toleranceWords() + " by " + gauge;
    }
  }

  /** Fits a label and a line of a table. */
  public static final int NAME_CHARACTERS_MAX = 40;

  /** More of one kind than a person feeds in a day; a larger number is a slip of the hand. */
  public static final int COUNT_MAX = 500;

  /**
   * @throws IllegalArgumentException if the count is not 1 to {@value #COUNT_MAX}
   */
  public PlanRow {
    if (count < 1 || count > COUNT_MAX) {
      throw new IllegalArgumentException("count " + count + " is not 1 to " + COUNT_MAX);
    }
  }

  /** A row of magnets by themselves that says nothing of the lot. */
  public PlanRow(
      int line,
      String name,
      Optional<String> set,
      Alloy alloy,
      Shape shape,
      NestConfig nest,
      PoleUp poleUp,
      Task task,
      int count) {
    this(
        line,
        name,
        set,
        FaceModel.of(alloy, shape),
        nest,
        poleUp,
        task,
        count,
        Optional.empty(),
        Keep.NOTHING,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  /** What it is made of. */
  public Alloy alloy() {
    return magnet.alloy();
  }

  /** Nominal shape and sizes. */
  public Shape shape() {
    return magnet.shape();
  }

  /** What such a magnet reads in this nest when it is fully charged, without sign. */
  public FluxDensity fullCharge() {
    return magnet.chargedField(nest.standOff());
  }

  /**
   * Name of one of the row's magnets: the row's name, with {@code .1}, {@code .2} … if there are
   * several.
   *
   * @param ordinal from 1
   */
  public String nameOf(int ordinal) {
    return nameOf(name, ordinal, count);
  }

  /** As {@link #nameOf(int)}, before there is a row. */
  static String nameOf(String rowName, int ordinal, int count) {
    return count == 1 ? rowName : rowName + "." + ordinal;
  }
}
