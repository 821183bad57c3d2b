package lodestep.measure;

import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import lodestep.quantity.FluxDensity;

/**
 * Waits for the gauge to settle: samples go in one by one, and in the end comes a reading or the
 * reason why there is none. Any thread, immutable; once it has ended further samples change
 * nothing.
 *
 * <p>How drift and noise decide, and what the uncertainty counts, is told at {@link SettlingRule}
 * and in the sum of parts: white noise over the root of the samples kept; slow wander within the
 * stretch, from the scatter of batch means; drift across it; the converter's step; and the rule's
 * stated wander. Single outliers are dropped; more than a tenth of them is not a settled gauge.
 */
public final class Settling {

  private final SteadyWindow window;

  private Settling(SteadyWindow window) {
    this.window = window;
  }

  /** How it stands. */
  public sealed interface Outcome {

    /** More samples are needed. */
    record Continues() implements Outcome {}

    /** The gauge has settled; gain and zero are not yet counted in the uncertainty. */
    record Settled(SettledReading reading) implements Outcome {}

    /** The time is up; says why in words for a person. */
    record Unsettled(String why) implements Outcome {}

    /** One arm for each variant. */
    default <R> R match(
        Function<Continues, R> continues,
        Function<Settled, R> settled,
        Function<Unsettled, R> unsettled) {
      if (this instanceof Continues c) {
        return continues.apply(c);
      }
      if (this instanceof Settled s) {
        return settled.apply(s);
      }
      return unsettled.apply((Unsettled) this);
    }
  }

  /**
   * Starts with no samples.
   *
   * @param startedAtNs monotonic time from which the rule's times count
   */
  public static Settling start(SettlingRule rule, long startedAtNs) {
    return new Settling(SteadyWindow.start(rule, startedAtNs));
  }

  /**
   * With one more sample. Costs well under a microsecond on average.
   *
   * @param tesla calibrated, zero subtracted; finite
   * @param atNs monotonic time of the sample, not before the last
   * @throws IllegalArgumentException if the sample is not finite or out of order
   */
  public Settling with(double tesla, long atNs) {
    return new Settling(window.with(tesla, atNs));
  }

  /** How it stands after the samples so far. */
  public Outcome outcome() {
    return window
        .outcome()
        .match(
            continues -> new Outcome.Continues(),
            steady ->
                new Outcome.Settled(
                    new SettledReading(
                        new FluxDensity(steady.mean()),
                        new FluxDensity(steady.uncertainty().value()),
                        steady.uncertainty().degreesOfFreedom(),
                        steady.samples())),
            gaveUp -> new Outcome.Unsettled(window.why(Settling::perSecond)));
  }

  /** The reading, once there is one. */
  public Optional<SettledReading> settled() {
    return outcome() instanceof Outcome.Settled s ? Optional.of(s.reading()) : Optional.empty();
  }

  private static String perSecond(double teslaPerSecond) {
    return String.format(Locale.ROOT, "%.3f mT", teslaPerSecond * 1e3);
  }
}
