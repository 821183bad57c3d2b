package lodestep.bench;

import java.util.List;
import lodestep.config.RigConfig;
import lodestep.magnet.AlloyBook;

/**
 * What a plan is held against: this rig, the alloys known, what the gauge can tell, and the hand
 * gauges by which targets may be told. Any thread, immutable.
 */
public record PlanRules(
    RigConfig rig, AlloyBook alloys, TightestTolerance tightest, HandGauges handGauges) {

  /**
   * For a rig with the alloys it knows.
   *
   * @throws IllegalArgumentException with one sentence, if a lot in its file cannot be
   */
  public static PlanRules of(RigConfig rig, TightestTolerance tightest) {
    return of(rig, tightest, HandGauges.NONE);
  }

  /**
   * The same, where targets may be told by these hand gauges.
   *
   * @throws IllegalArgumentException with one sentence, if a lot in the rig's file cannot be
   */
  public static PlanRules of(RigConfig rig, TightestTolerance tightest, HandGauges handGauges) {
    return new PlanRules(rig, Lots.of(rig), tightest, handGauges);
  }

  /**
   * What the gauge cannot tell of these rows, a sentence each with its line first: a plan that was
   * good once may ask for more than the gauge was found to tell since.
   */
  public List<String> untold(List<PlanRow> rows) {
    return rows.stream()
        .flatMap(
            row ->
                new RowLimits(this, row)
                    .untold().stream()
                        .map(refusal -> PlanError.ofRow(row.line(), refusal.sentence()).written()))
        .toList();
  }
}
