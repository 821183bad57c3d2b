package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import lodestep.magnet.CurveFamily;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/**
 * What was expected of a dialed magnet before and after each of its readings, reckoned anew from
 * the record as the planner reckoned it then. Any thread, immutable.
 *
 * @param taughtBy magnets of its kind that had been dialed before it
 * @param steps its knock-downs in their order
 * @param before the curve expected of it once it was charged
 * @param after the curve expected of it after its last reading
 */
public record Explained(
    int taughtBy, List<Step> steps, List<FieldFor> before, List<FieldFor> after) {

  /** Levels at which a curve is told, as parts of the full charge. */
  private static final double[] PARTS = {
    0.98, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5, 0.45, 0.4, 0.35, 0.3, 0.25, 0.2
  };

  private static final double COVERAGE = 2;

  public Explained {
    steps = List.copyOf(steps);
    before = List.copyOf(before);
    after = List.copyOf(after);
  }

  /**
   * A field that is expected to leave a level, with the limits that it lies between nineteen times
   * in twenty.
   *
   * @param level positive on the pole that was charged
   */
  public record FieldFor(
      FluxDensity level, FieldStrength least, FieldStrength expected, FieldStrength most) {}

  /**
   * One knock-down.
   *
   * @param charge after which of its charges, from 1
   * @param expected level that this field was expected to leave, positive on the pole charged
   * @param uncertainty standard, of that expectation
   * @param read level that it left
   * @param toTarget the field then expected to lead to the target
   */
  public record Step(
      int charge,
      FieldStrength field,
      FluxDensity expected,
      FluxDensity uncertainty,
      FluxDensity read,
      FieldFor toTarget) {}

  /**
   * Explains one magnet.
   *
   * @param family knock-down curves of magnets of its kind
   * @param expectedFull full charge of a nominal magnet in its nest, without sign
   * @param source what knocked it down
   * @param coercivity of its alloy
   * @param target without sign, above zero
   * @param lot what the magnets of its kind before it had shown, the oldest first
   * @param own what it showed itself
   */
  public static Explained of(
      CurveFamily family,
      FluxDensity expectedFull,
      FieldSource source,
      FieldStrength coercivity,
      FluxDensity target,
      List<MagnetCurve> lot,
      MagnetCurve own) {
    RigNow now = new RigNow(Temperature.ofDegC(20), RigMemory.none());
    FieldSource.Doubt doubt = source.doubt(coercivity, now);
    LotKnown known = new LotKnown(family, expectedFull.tesla(), doubt, lot);
    List<Step> steps = new ArrayList<>();
    List<List<Progress.Point>> shown = new ArrayList<>();
    for (List<Progress.Point> charge : own.charges()) {
      for (int i = 1; i < charge.size(); i++) {
        Progress.Point point = charge.get(i);
        MagnetBelief earlier = belief(known, with(shown, charge.subList(0, i)));
        MagnetBelief.Level level = earlier.levelAfter(point.fieldAperM(), doubt.told());
        MagnetBelief then = belief(known, with(shown, charge.subList(0, i + 1)));
        steps.add(
            new Step(
                shown.size() + 1,
                new FieldStrength(point.fieldAperM()),
                new FluxDensity(level.tesla()),
                new FluxDensity(level.uncertainty()),
                new FluxDensity(point.levelTesla()),
                fieldFor(then, target.tesla())));
      }
      shown.add(charge);
    }
    List<Progress.Point> charged = own.charges().get(0).subList(0, 1);
    double full = charged.get(0).levelTesla();
    return new Explained(
        lot.size(),
        steps,
        curve(belief(known, List.of(charged)), full),
        curve(belief(known, own.charges()), full));
  }

  private static MagnetBelief belief(LotKnown lot, List<List<Progress.Point>> charges) {
    return lot.promise(charges).belief();
  }

  private static List<List<Progress.Point>> with(
      List<List<Progress.Point>> shown, List<Progress.Point> more) {
    List<List<Progress.Point>> all = new ArrayList<>(shown);
    all.add(more);
    return all;
  }

  static List<FieldFor> curve(MagnetBelief belief, double fullTesla) {
    List<FieldFor> curve = new ArrayList<>();
    for (double part : PARTS) {
      curve.add(fieldFor(belief, part * fullTesla));
    }
    return curve;
  }

  private static FieldFor fieldFor(MagnetBelief belief, double levelTesla) {
    return new FieldFor(
        new FluxDensity(levelTesla),
        new FieldStrength(belief.fieldLeaving(levelTesla, COVERAGE, 0)),
        new FieldStrength(belief.fieldLeaving(levelTesla, 0, 0)),
        new FieldStrength(belief.fieldLeaving(levelTesla, -COVERAGE, 0)));
  }
}
