package lodestep.bench;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.config.JigConfig;
import lodestep.config.KnockDownBy;
import lodestep.config.RigConfig;
import lodestep.dial.Fields;
import lodestep.dial.GapCurve;
import lodestep.dial.Percent;
import lodestep.dial.RigMemory;
import lodestep.dial.RigNow;
import lodestep.dial.Task;
import lodestep.magnet.Approach;
import lodestep.magnet.HardMagnet;
import lodestep.magnet.Shape;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;

/**
 * What a plan asks of a rig that may well not be had, though nothing forbids to try: told before
 * anything is charged. Pure.
 */
public final class PlanDoubts {

  /** A bench's temperature; what a source can do hardly depends on it. */
  private static final Temperature ROOM = Temperature.ofDegC(22);

  /** Flux that a shorted winding may keep out unsaid: less than the pulse's own uncertainty. */
  private static final double KEPT_OUT = 0.01;

  /** What a jig's field may differ unsaid: well inside what is not known of it anyhow. */
  private static final double BESIDE = 0.05;

  private PlanDoubts() {}

  /** One sentence for each doubt, by line. */
  public static List<String> of(Plan plan, RigConfig rig) {
    return Stream.concat(
            plan.rows().stream().flatMap(row -> doubt(row, rig).stream()),
            plan.rows().stream().flatMap(row -> unlike(plan, row).stream()))
        .toList();
  }

  /** Magnets that are each inside their tolerance may still be too unlike for their set. */
  private static Optional<String> unlike(Plan plan, PlanRow row) {
    List<PlanRow> set = plan.rows().stream().filter(each -> each.set().equals(row.set())).toList();
    Optional<PlanRow> says = set.stream().filter(each -> each.spread().isPresent()).findFirst();
    double spread = row.spread().orElse(Double.POSITIVE_INFINITY);
    return set.stream()
        .filter(any -> says.filter(row::equals).isPresent())
        .filter(each -> 2 * tolerated(each) > spread)
        .max(Comparator.comparingDouble(PlanDoubts::tolerated))
        .map(
            each ->
                said(
                    each,
                    "by its tolerance the magnets of %s may lie %.1f %% apart, and its spread is"
                        + " %s: any too unlike the others will have to be dialed again; with %.1f"
                        + " G each way none is",
                    each.set().orElse(""),
                    200 * tolerated(each),
                    Percent.words(spread),
                    // Rounded down, so that the number offered is itself narrow enough.
                    Math.floor(5e4 * spread * target(each)) / 10));
  }

  /** Half width of the band as a part of the target; 0 where no level is asked. */
  private static double tolerated(PlanRow row) {
    return row.task() instanceof Task.ToLevel level ? level.tolerance().tesla() / target(row) : 0;
  }

  private static double target(PlanRow row) {
    return row.task() instanceof Task.ToLevel level ? level.target().magnitude().tesla() : 0;
  }

  private static Optional<String> doubt(PlanRow row, RigConfig rig) {
    if (rig.headAlone()) {
      return Optional.empty();
    }
    Prepared prepared = Prepared.of(row, rig);
    Optional<String> kept = kept(prepared, rig);
    if (kept.isPresent()) {
      return kept;
    }
    Optional<String> beside = beside(prepared, rig);
    if (beside.isPresent()) {
      return beside;
    }
    RigNow now = new RigNow(ROOM, RigMemory.none());
    Fields fields = prepared.knockDown().fields(now);
    return row.task()
        .match(
            level ->
                unsaturated(prepared, now)
                    .or(() -> coarse(prepared, level, fields))
                    .or(() -> soft(prepared, level)),
            down -> Optional.empty(),
            none -> Optional.empty(),
            full -> unsaturated(prepared, now));
  }

  /** The current in a shorted winding works against the pulse. */
  private static Optional<String> kept(Prepared prepared, RigConfig rig) {
    PlanRow row = prepared.row();
    return row.winding()
        .filter(WoundPickup::shorted)
        .flatMap(winding -> winding.inducedBy(rig, row.magnet(), row.nest().coil()))
        .filter(induced -> induced.keptOutFraction() > KEPT_OUT)
        .map(
            induced ->
                said(
                    prepared,
                    "its shorted winding keeps up to %.0f %% of a pulse's flux out of the magnet:"
                        + " open its ends",
                    100 * induced.keptOutFraction()));
  }

  /** A jig's field is reckoned on its axis, where a ring has its hole. */
  private static Optional<String> beside(Prepared prepared, RigConfig rig) {
    if (!(prepared.row().shape() instanceof Shape.Ring ring)
        || prepared.row().task() instanceof Task.FullCharge
        || rig.sources().knockDown() != KnockDownBy.JIG) {
      return Optional.empty();
    }
    JigConfig jig = rig.jig().orElseThrow();
    Length nearest = jig.gap(jig.lowest(ring.height()), ring.height());
    HardMagnet magnet = GapCurve.magnet(jig);
    double axis = magnet.meanFieldThrough(nearest, ring.height()).amperesPerMetre();
    double wall = -new Approach(magnet, nearest, ring).inWork().mean().amperesPerMetre();
    return Math.abs(wall / axis - 1) <= BESIDE
        ? Optional.empty()
        : Optional.of(
            said(
                prepared,
                "the jig's field is reckoned on its axis, and where it comes nearest the ring's"
                    + " wall sees %.0f %% of that: a first magnet may need more strokes, until one"
                    + " has taught the rig",
                100 * wall / axis));
  }

  /**
   * A source of levels proves no full charge by a second, stronger one: it has to be enough. Any
   * other may prove that of a magnet softer than is usual.
   */
  private static Optional<String> unsaturated(Prepared prepared, RigNow now) {
    return prepared
        .charge()
        .filter(source -> source.fields(now).most().compareTo(prepared.saturating()) < 0)
        .map(
            source ->
                said(
                    prepared,
                    "its full charge needs a field of %s and this %s reaches %s: %s; charge such"
                        + " magnets by hand between stronger ones",
                    prepared.saturating().written(),
                    source.noun(),
                    source.fields(now).most().written(),
                    source.fields(now) instanceof Fields.Levels
                        ? "it will be refused"
                        : "a usual one will be refused, for no full charge is proven"));
  }

  /** The step of the source at the target, against the width of the band. */
  private static Optional<String> coarse(Prepared prepared, Task.ToLevel level, Fields fields) {
    double full = prepared.expectedFull().tesla();
    double fraction = Math.abs(level.target().tesla()) / full;
    if (!(fields instanceof Fields.Levels) || fraction >= 1) {
      return Optional.empty();
    }
    FieldStrength there = new FieldStrength(prepared.curve().fieldFor(fraction));
    FieldStrength below = fields.atMost(there).orElse(new FieldStrength(0));
    Optional<FieldStrength> above = fields.above(below);
    if (above.isEmpty()) {
      return Optional.empty();
    }
    double step =
        full
            * (prepared.curve().fractionAt(below.amperesPerMetre())
                - prepared.curve().fractionAt(above.get().amperesPerMetre()));
    return step <= level.tolerance().tesla()
        ? Optional.empty()
        : Optional.of(
            said(
                prepared,
                "near %s a step of this %s takes about %s, and the tolerance is %s each way: some"
                    + " of these magnets will be refused for want of a step that ends inside",
                level.target().inGauss(),
                prepared.knockDown().noun(),
                new FluxDensity(step).inGauss(),
                level.tolerance().inGauss()));
  }

  /** What it is to survive, against what a usual magnet would read after that. */
  private static Optional<String> soft(Prepared prepared, Task.ToLevel level) {
    double lowest = level.target().magnitude().tesla() - level.tolerance().tesla();
    return prepared
        .row()
        .keep()
        .survives()
        .filter(field -> left(prepared, field) < lowest)
        .map(
            field ->
                said(
                    prepared,
                    "an opposing field of %s takes a usual magnet of this kind down to %s, below"
                        + " its tolerance: it will hardly survive that at %s",
                    field.written(),
                    new FluxDensity(left(prepared, field)).inGauss(),
                    level.target().inGauss()));
  }

  private static double left(Prepared prepared, FieldStrength field) {
    return Math.max(0, prepared.curve().fractionAt(field.amperesPerMetre()))
        * prepared.expectedFull().tesla();
  }

  private static String said(Prepared prepared, String format, Object... args) {
    return said(prepared.row(), format, args);
  }

  private static String said(PlanRow row, String format, Object... args) {
    return "line "
        + row.line()
        + ", "
        + row.name()
        + ": "
        + String.format(Locale.ROOT, format, args);
  }
}
