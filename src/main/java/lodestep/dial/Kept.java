package lodestep.dial;

import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Move.Finish;
import lodestep.magnet.SlowRelaxation;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import lodestep.quantity.TimeSpan;

/**
 * What a knocked-down magnet keeps of its level: a weaker opposing field than its largest reverse
 * peak leaves it as it is (return-point memory). Pure.
 */
final class Kept {

  private static final double COVERAGE = 2;

  /** Aimed so far above what is needed, lest a pulse that falls a little short is made twice. */
  private static final double ABOVE = 1.01;

  private static final Temperature ROOM = Temperature.ofDegC(20);

  /** A level is known when its reading has settled. */
  private static final TimeSpan SETTLED = new TimeSpan(10);

  private static final TimeSpan TEN_YEARS = new TimeSpan(10 * 365.25 * 86_400);

  private Kept() {}

  /**
   * The reverse peak that a magnet must have had to survive what is asked of it: stronger by what
   * is not known of the source's field (k = 2). Empty if nothing is asked.
   */
  static Optional<FieldStrength> needed(Work work, RigNow now) {
    return work.keep()
        .survives()
        .map(field -> new FieldStrength(field.amperesPerMetre() * (1 + doubt(work, field, now))));
  }

  /** The field of the pulse that gives what is needed; empty if the source has none. */
  static Optional<FieldStrength> aimed(FieldStrength needed, Fields fields) {
    return fields
        .atMost(new FieldStrength(needed.amperesPerMetre() * ABOVE))
        .filter(field -> field.compareTo(needed) >= 0)
        .or(() -> fields.above(needed));
  }

  /** The strongest opposing field that surely leaves a magnet with this peak as it is. */
  private static FieldStrength survived(Work work, double peakAperM, RigNow now) {
    FieldStrength peak = new FieldStrength(peakAperM);
    return new FieldStrength(peakAperM / (1 + doubt(work, peak, now)));
  }

  /** Relative and expanded, of a field that the source is told to have given. */
  private static double doubt(Work work, FieldStrength near, RigNow now) {
    FieldSource.Doubt doubt = work.knockDown().doubt(near, now);
    return COVERAGE * Math.hypot(doubt.scale(), doubt.told());
  }

  /** An accepting verdict says what the magnet keeps, as far as its own pulses tell. */
  static Finish told(Dial dial, Finish finish) {
    double peak = dial.progress().largestReverseAperM();
    boolean kept = finish.verdict() == Verdict.ACCEPTED && peak > 0;
    return kept ? new Finish(finish.verdict(), finish.why() + "; " + words(dial, peak)) : finish;
  }

  private static String words(Dial dial, double peakAperM) {
    Work work = dial.work();
    RigNow now = new RigNow(ROOM, dial.memory());
    double level =
        dial.progress().last().map(reading -> Math.abs(reading.value().tesla())).orElse(0.0);
    FluxDensity takes =
        SlowRelaxation.takes(
            work.curve(),
            work.expectedFull(),
            new FluxDensity(level),
            new FieldStrength(peakAperM),
            SETTLED,
            TEN_YEARS);
    String rested =
        work.keep()
            .readAfter()
            .filter(span -> dial.progress().rested())
            .map(span -> "read " + span.written() + " after its last pulse; ")
            .orElse("");
    return String.format(
        Locale.ROOT,
        "%sopposing fields up to %s leave it so, ten years are expected to take %s",
        rested,
        survived(work, peakAperM, now).written(),
        takes.inGauss());
  }
}
