package lodestep.dial;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.config.Limits;
import lodestep.device.Act;
import lodestep.device.JigMove;
import lodestep.device.Order;
import lodestep.device.StrokePlan;
import lodestep.device.StrokeState;
import lodestep.port.ActEvent;
import lodestep.port.View;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;

/**
 * A reverse jig over magnets of one kind: from a wanted field to the gap that gives it, and back.
 * Its opposing magnet drives one way only.
 *
 * @param workHeight of these magnets
 * @param told fields by rig.toml alone, as {@link GapCurve#told} gives them
 */
public record JigDrive(JigConfig jig, Length workHeight, List<Double> told) implements FieldSource {

  /** Weaker fields do nothing to any magnet worth the name. */
  private static final FieldStrength LEAST = new FieldStrength(500);

  private static final String NAME = "jig";

  /**
   * The gauge has seen the opposing magnet from the other side of the nest only, and what one field
   * everywhere in the work stands for is reckoned; where the screw comes to rest it repeats.
   */
  private static final Doubt DOUBT = new Doubt(0.12, 0.003, 0.003);

  public JigDrive {
    told = List.copyOf(told);
  }

  /** The jig over magnets of this height; some milliseconds. */
  public static JigDrive over(JigConfig jig, Length workHeight) {
    return new JigDrive(jig, workHeight, GapCurve.told(jig, workHeight));
  }

  @Override
  public String name() {
    return NAME;
  }

  @Override
  public String noun() {
    return "jig";
  }

  @Override
  public Fields fields(RigNow now) {
    List<Double> fields = curve(now.memory());
    double most = fields.get(fields.size() - 2);
    return new Fields.Continuous(
        new FieldStrength(Math.max(LEAST.amperesPerMetre(), fields.get(0))),
        new FieldStrength(Math.max(most, LEAST.amperesPerMetre())));
  }

  @Override
  public Doubt doubt(FieldStrength near, RigNow now) {
    return DOUBT;
  }

  @Override
  public Act begin(Order order, long intentNumber, RigNow now, Limits limits, long nowNs) {
    List<Double> fields = curve(now.memory());
    Length position = position(fields, order.field());
    return StrokeState.begin(
        new StrokePlan(order, position, workHeight, intentNumber, fields, jig, limits), nowNs);
  }

  @Override
  public Optional<Swing> swing(ActEvent.ActEnded ended) {
    if (!(ended instanceof ActEvent.StrokeEnded stroke)) {
      return Optional.empty();
    }
    FieldStrength field = new FieldStrength(stroke.fieldAmperesPerMetre());
    FieldStrength none = new FieldStrength(0);
    return Optional.of(stroke.drivesNorth() ? new Swing(field, none) : new Swing(none, field));
  }

  @Override
  public Optional<String> cannotDrive(boolean north) {
    return north == jig.magnet().northFaces()
        ? Optional.empty()
        : Optional.of(
            String.format(
                Locale.ROOT,
                "this jig's opposing magnet knocks down %s faces only; turn the opposing magnet"
                    + " over and mend magnet_faces_work in rig.toml",
                north ? "north" : "south"));
  }

  @Override
  public boolean disturbs(View view) {
    return !JigMove.parked(jig, view);
  }

  @Override
  public int actsMax() {
    return jig.strokesMax();
  }

  private List<Double> curve(RigMemory memory) {
    return memory.gap().fields(told);
  }

  /** The position that gives this field; the lowest when none does. */
  private Length position(List<Double> fields, FieldStrength wanted) {
    double lowest = jig.lowest(workHeight).metres();
    int above = 0;
    while (above < fields.size() - 1 && fields.get(above + 1) < wanted.amperesPerMetre()) {
      above++;
    }
    if (above == fields.size() - 1) {
      return new Length(lowest);
    }
    double part =
        Math.log(wanted.amperesPerMetre() / fields.get(above))
            / Math.log(fields.get(above + 1) / fields.get(above));
    double metres = (above + Math.max(0, part)) * StrokePlan.SPACING_MICRO_METRES * 1e-6;
    return new Length(Math.max(jig.screw().park().metres(), Math.min(lowest, metres)));
  }
}
