package lodestep.dial;

import java.util.Locale;
import lodestep.measure.Acceptance;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.Judgement;
import lodestep.measure.SettledReading;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/**
 * An accepted magnet's new reading beside the one it was accepted by: whether it has moved. A pure
 * function of its arguments.
 *
 * <p>Both are brought to 20 °C by the alloy's coefficient. The gauge's gain is in both and drops
 * out; each was seated anew. It has moved where the difference, less what time alone was expected
 * to make of it, is more than its expanded uncertainty (k = 2).
 *
 * @param accepted what it read then
 * @param now the new reading, zero counted in, and the gain where it is not shared
 * @param gauge temperature at the gauge now
 */
public record Rereading(Accepted accepted, SettledReading now, Temperature gauge) {

  /** The figures of alloys are given there. */
  private static final double REFERENCE_DEG_C = 20;

  /** The magnet is as warm as the gauge beside it but for this. Common practice, no source. */
  private static final double KELVIN_SIGMA = 1;

  /** The comparison with what was read now, zero and gain not counted in yet. */
  static Rereading of(
      Accepted accepted,
      SettledReading read,
      GaugeCalibration calibration,
      Zero zero,
      double degC) {
    GaugeCalibration counting =
        accepted.gainShared()
            ? new GaugeCalibration(
                calibration.countsPerTesla(),
                calibration.gainPerKelvin(),
                calibration.reference(),
                0)
            : calibration;
    return new Rereading(accepted, counting.counted(read, zero.gauge()), Temperature.ofDegC(degC));
  }

  /** What the comparison came to. */
  public enum Finding {
    /** It reads as it did, as well as is asked of it. */
    KEPT("kept"),
    /** It reads otherwise, by more than doubt and time alone account for. */
    MOVED("moved"),
    /** No move is seen, but one out of the tolerance would not be seen either. */
    CANNOT_TELL("cannot tell");

    private final String word;

    Finding(String word) {
      this.word = word;
    }

    /** As it stands in the record. */
    public String word() {
      return word;
    }
  }

  /** By how much it reads stronger than then, at equal temperature; below zero: weaker. */
  public FluxDensity difference() {
    return new FluxDensity(
        sign() * (at20(now.value(), gauge) - at20(accepted.value(), accepted.gauge())));
  }

  /** Standard uncertainty of the difference. */
  public FluxDensity uncertainty() {
    double size = Math.max(now.value().magnitude().tesla(), accepted.value().magnitude().tesla());
    double readings = Math.hypot(now.standardUncertainty().tesla(), accepted.noise().tesla());
    double placed = Math.sqrt(2) * accepted.placement() * size;
    double warm = Math.sqrt(2) * Math.abs(accepted.perKelvin()) * KELVIN_SIGMA * size;
    double corrected =
        accepted.perKelvinUncertainty()
            * Math.abs(gauge.kelvin() - accepted.gauge().kelvin())
            * size;
    return new FluxDensity(Math.hypot(Math.hypot(readings, placed), Math.hypot(warm, corrected)));
  }

  /** Whether it has moved. */
  public Finding finding() {
    double expanded = Acceptance.COVERAGE * uncertainty().tesla();
    double unexplained = difference().tesla() + accepted.timeTakes().tesla();
    if (Math.abs(unexplained) > expanded) {
      return Finding.MOVED;
    }
    return expanded <= accepted.tolerance().tesla() ? Finding.KEPT : Finding.CANNOT_TELL;
  }

  /** What was found, in one sentence. */
  public String words() {
    double difference = difference().tesla();
    String off =
        String.format(
            Locale.ROOT,
            "it reads %s, at equal temperature %s than when it was accepted, %s before"
                + " (± %s, k = 2); time alone was expected to take %s",
            now.value().inGauss(),
            moved(difference),
            accepted.since().written(),
            new FluxDensity(Acceptance.COVERAGE * uncertainty().tesla()).inGauss(),
            accepted.timeTakes().inGauss());
    return switch (finding()) {
      case KEPT -> off;
      case MOVED -> off + "; " + (inside() ? "still inside its tolerance" : "dial it again");
      case CANNOT_TELL ->
          off
              + "; a move by its tolerance of "
              + accepted.tolerance().inGauss()
              + " would not show";
    };
  }

  /** What was to be uncharged, or has turned over, is no weaker: it reads more to one side. */
  private String moved(double difference) {
    String by = new FluxDensity(Math.abs(difference)).inGauss();
    boolean oneSide =
        accepted.target().tesla() != 0 && now.value().tesla() * accepted.value().tesla() > 0;
    if (oneSide) {
      return by + (difference < 0 ? " weaker" : " stronger");
    }
    return by + (sign() * difference < 0 ? " more to south" : " more to north");
  }

  /** The end of the work on it: kept is a good one, anything else asks for a person's look. */
  Move.Finish finish() {
    return new Move.Finish(
        finding() == Finding.KEPT ? Verdict.ACCEPTED : Verdict.REFUSED,
        finding().word() + ": " + words());
  }

  private boolean inside() {
    return Acceptance.guarded(accepted.target(), accepted.tolerance()).judge(now)
        == Judgement.ACCEPT;
  }

  private double at20(FluxDensity value, Temperature at) {
    return value.tesla() / (1 + accepted.perKelvin() * (at.degC() - REFERENCE_DEG_C));
  }

  private double sign() {
    return accepted.value().tesla() < 0 ? -1 : 1;
  }
}
