package lodestep.bench;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.config.KnockDownBy;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.magnet.UnknownAlloy;
import lodestep.measure.Seating;
import lodestep.quantity.FluxDensity;

/** Whether what a row asks for can be had: from the magnet, and from the gauge. Pure. */
final class RowLimits {

  /**
   * How far above the reckoned full charge a target may lie: a lot can be stronger than its alloy's
   * figures; what a magnet really takes its own charge shows. Common practice, no source.
   */
  private static final double FULL_CHARGE_MARGIN = 1.05;

  /** What reckoning in binary fractions leaves over; no one means a difference so small. */
  private static final double GAUSS_DUST = 1e-6;

  private static final FluxDensity NONE = new FluxDensity(0);

  private final PlanRules rules;
  private final PlanRow row;

  RowLimits(PlanRules rules, PlanRow row) {
    this.rules = rules;
    this.row = row;
  }

  /** Something that cannot be had, and the column that asks for it. */
  record Refusal(PlanColumn column, String sentence) {}

  /** Everything that cannot be had; empty if the row can be done. */
  List<Refusal> refusals() {
    Optional<Refusal> hard = tooHard();
    return hard.isPresent()
        ? hard.stream().toList()
        : Stream.of(
                wrongWay().stream(),
                wound().stream(),
                survived().stream(),
                unmatched().stream(),
                edgeless().stream(),
                unseen().stream(),
                unreached().stream())
            .flatMap(refusals -> refusals)
            .toList();
  }

  /** Ceramic and neodymium are beyond a bank of 50 V, and beyond what a jig brings near. */
  private Optional<Refusal> tooHard() {
    return row.alloy().family().isDialed()
        ? Optional.empty()
        : Optional.of(
            new Refusal(
                PlanColumn.ALLOY,
                String.format(
                    Locale.ROOT,
                    "%s is too hard to be charged or knocked down here: this %s needs a field of"
                        + " about %.0f kA/m to be charged; take the row out, it can be read and"
                        + " matched as it is",
                    row.alloy().name(),
                    row.shape().words(),
                    row.magnet().saturating().amperesPerMetre() * 1e-3)));
  }

  /** A jig's opposing magnet drives one way, and no demagnetising row says which way it stands. */
  private Optional<Refusal> wrongWay() {
    if (rules.rig().sources().knockDown() != KnockDownBy.JIG
        || row.task() instanceof Task.Demagnetise
        || row.task() instanceof Task.FullCharge) {
      return Optional.empty();
    }
    PoleUp knocked =
        rules.rig().jig().orElseThrow().magnet().northFaces() ? PoleUp.SOUTH : PoleUp.NORTH;
    return row.poleUp() == knocked
        ? Optional.empty()
        : Optional.of(
            new Refusal(
                PlanColumn.POLE_UP,
                "this jig knocks down magnets with "
                    + knocked.word()
                    + " up only; turn its opposing magnet over and mend magnet_faces_work in"
                    + " rig.toml, and do these rows then"));
  }

  /** A pulse through the coil around a finished pickup breaks its winding through. */
  private Optional<Refusal> wound() {
    return row.winding()
        .flatMap(
            winding ->
                winding
                    .inducedBy(rules.rig(), row.magnet(), row.nest().coil())
                    .flatMap(winding::refusal))
        .map(why -> new Refusal(PlanColumn.WINDING, why));
  }

  /** What is dialed is what the nest's gauge reads, and that is the middle of one face. */
  private Optional<Refusal> unseen() {
    if (rules.rig().headAlone()) {
      return Optional.empty();
    }
    return row.readAt()
        .map(asked -> asked.counts().words())
        .filter(counts -> !counts.equals(PointsAsked.MIDDLE))
        .map(
            counts ->
                new Refusal(
                    PlanColumn.COUNTS,
                    "the "
                        + counts
                        + " cannot be dialed to: this rig's gauge sees the middle of the strings"
                        + " face alone; let the middle count, and judge the magnets afterwards:"
                        + " lodestep points "
                        + row.nameOf(1)
                        + " --at \""
                        + asked(counts)
                        + "\" --counts \""
                        + counts
                        + "\""));
  }

  private String asked(String counts) {
    return row.readAt().map(PointsAsked::words).orElse(counts);
  }

  private Optional<Refusal> edgeless() {
    return row.readAt()
        .flatMap(asked -> asked.objection(row.shape()))
        .map(why -> new Refusal(PlanColumn.READ_AT, why));
  }

  /** What has no level has none to keep, and no source goes beyond its own field. */
  private Optional<Refusal> survived() {
    if (row.keep().survives().isEmpty()) {
      return Optional.empty();
    }
    return row.task()
        .<Optional<String>>match(
            level -> Optional.empty(),
            down -> Optional.empty(),
            none -> Optional.of("a magnet that is demagnetised has no level to keep"),
            full ->
                Optional.of("what makes a level survive is a knock-down, and none is asked for"))
        .map(why -> new Refusal(PlanColumn.SURVIVES, why + "; leave it empty"));
  }

  /** Deviations are from a level. */
  private Optional<Refusal> unmatched() {
    return row.spread()
        .filter(any -> !(row.task() instanceof Task.ToLevel))
        .map(
            any ->
                new Refusal(
                    PlanColumn.SPREAD,
                    "magnets are matched by their levels, and this row asks for none; leave it"
                        + " empty"));
  }

  /** What the gauge cannot tell. */
  List<Refusal> untold() {
    return unreached().stream()
        .filter(refusal -> refusal.column() == PlanColumn.TOLERANCE)
        .toList();
  }

  private List<Refusal> unreached() {
    return row.task()
        .match(
            level ->
                both(
                    reach(level.target().magnitude()),
                    telling(level.tolerance(), level.target().magnitude())),
            // How far a magnet is down a plan cannot know; the gauge tells best near zero.
            down ->
                both(
                    down.drop().match(by -> reach(by.amount()), part -> Optional.empty()),
                    down.tolerance()
                        .match(
                            fixed -> telling(fixed.halfWidth(), NONE), part -> Optional.empty())),
            none -> telling(none.limit(), NONE).stream().toList(),
            full -> seen().stream().toList());
  }

  private static List<Refusal> both(Optional<Refusal> one, Optional<Refusal> other) {
    return Stream.of(one, other).flatMap(Optional::stream).toList();
  }

  private Optional<Refusal> reach(FluxDensity size) {
    FluxDensity full = row.fullCharge();
    boolean known = !UnknownAlloy.is(row.alloy());
    if (known && size.tesla() > full.tesla() * FULL_CHARGE_MARGIN) {
      return Optional.of(new Refusal(PlanColumn.TARGET, moreThanItTakes(size, full)));
    }
    return beyond(size);
  }

  /** A full charge of an alloy that nobody knows shows only when it is read. */
  private Optional<Refusal> seen() {
    return UnknownAlloy.is(row.alloy()) ? Optional.empty() : beyond(row.fullCharge());
  }

  private Optional<Refusal> beyond(FluxDensity size) {
    FluxDensity range = rules.rig().gauge().range();
    return size.compareTo(range) > 0
        ? Optional.of(
            new Refusal(
                PlanColumn.TARGET,
                size.inGauss() + " is beyond the gauge, which reads up to " + range.inGauss()))
        : Optional.empty();
  }

  private String moreThanItTakes(FluxDensity size, FluxDensity full) {
    return String.format(
        Locale.ROOT,
        "%s is more than such a magnet takes: %s, %s, reads about %.0f G when fully charged in the"
            + " %s, %s from its face; ask for less",
        size.inGauss(),
        row.alloy().name(),
        row.shape().words(),
        full.gauss(),
        row.nest().name(),
        row.nest().standOff().written());
  }

  private Optional<Refusal> telling(FluxDensity halfWidth, FluxDensity level) {
    FluxDensity tightest = rules.tightest().at(row.nest(), level);
    if (halfWidth.gauss() >= tightest.gauss() - GAUSS_DUST) {
      return Optional.empty();
    }
    // Rounded up, so that the number offered is itself wide enough.
    double enoughGauss = Math.ceil((tightest.gauss() - GAUSS_DUST) * 10) / 10;
    return Optional.of(
        new Refusal(
            PlanColumn.TOLERANCE,
            String.format(
                Locale.ROOT,
                "%s is tighter than this gauge can tell at %.0f G%s ask for %.1f G or more",
                halfWidth.inGauss(),
                level.gauss(),
                rules
                    .tightest()
                    .study(row.nest(), level, halfWidth)
                    .map(seating -> studied(seating) + " or")
                    .orElseGet(
                        () -> (level.tesla() > 0 ? rules.tightest().known(row.nest()) : "") + ";"),
                enoughGauss)));
  }

  /** What a person can do about it, for the study may have been made in haste. */
  private String studied(Seating seating) {
    return String.format(
        Locale.ROOT,
        ", since one seating in the %s counts with %.2f %% (%s); study the nest anew, each"
            + " magnet seated with care and more often (lodestep gauge study --guided placement),",
        row.nest().name(),
        100 * seating.counted(),
        seating.known());
  }
}
