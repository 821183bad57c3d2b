package lodestep.voice;

import static lodestep.voice.PullTable.said;

import java.util.ArrayList;
import java.util.List;
import lodestep.magnet.Flux;
import lodestep.magnet.Place;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.voice.Told.Passage;
import org.hipparchus.analysis.solvers.BrentSolver;

/**
 * One alloy in place of another, as the strings see it. Any thread, immutable.
 *
 * @param own the pickup as it is, {@code was} its level
 * @param by the same with the other alloy, {@code takes} the level at which the string sees the
 *     same
 * @param string the one that is pulled most
 */
public record InsteadAnswer(
    VoicedPickup own, FluxDensity was, VoicedPickup by, FluxDensity takes, int string) {

  /** Heights above the pole at which both are told, in millimetres. */
  public static final List<Double> UP_MM = List.of(1.5, 2.0, 2.8, 4.0, 6.0);

  private static final double[] ASIDE_MM = {2, 4};

  /** Of a level; far finer than anything can be dialed. */
  private static final double ACCURACY_TESLA = 2e-6;

  private static final int EVALUATIONS_MAX = 60;

  /**
   * Works it out; a few seconds.
   *
   * @param sign before the field's word in a refusal
   * @throws IllegalArgumentException with one sentence, if the other does not hold it
   */
  public static InsteadAnswer of(String sign, VoicedPickup own, FluxDensity was, VoicedPickup by) {
    int string = own.most();
    double wanted = own.field().atString(string, was, own.distance());
    double most = by.field().atString(string, by.full(), by.distance());
    if (wanted > most) {
      throw new IllegalArgumentException(
          sign
              + said(
                  "by: %s does not hold it: fully charged at %s it gives the strings %.0f G, and"
                      + " they see %.0f G now; take a larger magnet or a stronger alloy",
                  by.kind(), by.full().inGauss(), most * 1e4, wanted * 1e4));
    }
    double full = by.full().tesla();
    double tesla =
        new BrentSolver(ACCURACY_TESLA)
            .solve(
                EVALUATIONS_MAX,
                each -> by.field().atString(string, new FluxDensity(each), by.distance()) - wanted,
                0.03 * full,
                full);
    return new InsteadAnswer(own, was, by, new FluxDensity(tesla), string);
  }

  /** The answer in words. */
  public Told told() {
    List<Passage> passages =
        new ArrayList<>(
            List.of(
                new Passage.Heading(by.kind() + " in place of " + own.kind().alloy().name()),
                new Passage.Sentence(
                    said(
                        "Dial it to %s, %.0f %% of its full charge, and string %s sees what it saw"
                            + " over %s.",
                        takes.inGauss(),
                        100 * takes.tesla() / by.full().tesla(),
                        own.set().tuned().get(string).note(),
                        was.inGauss())),
                table(),
                new Passage.Sentence(keeps()),
                new Passage.Sentence(by.field().range(takes))));
    passages.addAll(by.coil().passages(takes.tesla() / by.full().tesla()));
    return new Told(passages, List.of());
  }

  private Passage table() {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("fully charged", own.full().inGauss(), by.full().inGauss()));
    rows.add(List.of("dialed to", was.inGauss(), takes.inGauss()));
    rows.add(List.of("knocked down by", held(own, was).written(), held(by, takes).written()));
    for (double mm : UP_MM) {
      rows.add(row(said("%.1f mm above the pole", mm), 0, mm));
    }
    for (double mm : ASIDE_MM) {
      double up = own.distance().mm();
      rows.add(row(said("%.1f mm above, %.0f mm aside", up, mm), mm, up));
    }
    return new Passage.Rows(
        "Both beside one another",
        false,
        List.of("", own.kind().alloy().name(), by.kind().alloy().name()),
        1,
        rows);
  }

  private List<String> row(String where, double asideMm, double upMm) {
    return List.of(
        where,
        said("%.0f G", tesla(own, was, asideMm, upMm) * 1e4),
        said("%.0f G", tesla(by, takes, asideMm, upMm) * 1e4));
  }

  /** Knocked down by this, and so left alone by as much. */
  public static FieldStrength held(VoicedPickup pickup, FluxDensity level) {
    return pickup.field().level().keeping().peakFor(level);
  }

  /** Whether it keeps the level by itself, and between its neighbours. */
  private String keeps() {
    PickupField.Settled settled = by.field().settled(takes);
    String most = said("%s of %s", takes.inGauss(), by.full().inGauss());
    String replaced = said("; the magnet it replaces by up to %s", held(own, was).written());
    if (settled.holds()) {
      String alone =
          settled.bears().amperesPerMetre() > 0
              ? "is left alone by an opposing field of up to " + settled.bears().written()
              : "has no reserve: any opposing field takes some of it";
      String beside =
          settled.opposing().amperesPerMetre() > 0
              ? said(", and its neighbours give it %s", settled.opposing().written())
              : "";
      return said("It can hold this level: %s, and it %s%s%s.", most, alone, beside, replaced);
    }
    return said(
        "It can be dialed to this level, %s, but does not hold it beside its neighbours: they give"
            + " it %s, and it is left alone by up to %s%s. Beside them it comes to about %s, as it"
            + " reads by itself, for good.",
        most,
        settled.opposing().written(),
        settled.bears().written(),
        replaced,
        settled.comesTo().inGauss());
  }

  /** At a place over the pole of the string that is told of, in tesla, without sign. */
  public double tesla(VoicedPickup pickup, FluxDensity level, double asideMm, double upMm) {
    Flux flux = pickup.field().above(string, level).at(new Place(0, asideMm * 1e-3, upMm * 1e-3));
    return Math.abs(flux.zTesla());
  }
}
