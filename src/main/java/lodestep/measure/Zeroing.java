package lodestep.measure;

import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;

/**
 * Takes a zero of the gauge in counts: samples go in one by one, judged as {@link Settling} judges
 * a reading. Any thread, immutable; once it has ended further samples change nothing.
 *
 * <p>That the seat is empty, the jig parked and the coil without current is the caller's to see to.
 */
public final class Zeroing {

  private final SteadyWindow window;

  private Zeroing(SteadyWindow window) {
    this.window = window;
  }

  /** How it stands. */
  public sealed interface Outcome {

    /** More samples are needed. */
    record Continues() implements Outcome {}

    /** A zero was found. */
    record Taken(GaugeZero zero) implements Outcome {}

    /** The time is up; says why in words for a person. */
    record NotTaken(String why) implements Outcome {}

    /** One arm for each variant. */
    default <R> R match(
        Function<Continues, R> continues,
        Function<Taken, R> taken,
        Function<NotTaken, R> notTaken) {
      if (this instanceof Continues c) {
        return continues.apply(c);
      }
      if (this instanceof Taken t) {
        return taken.apply(t);
      }
      return notTaken.apply((NotTaken) this);
    }
  }

  /**
   * Starts with no samples.
   *
   * @param startedAtNs monotonic time from which the rule's times count
   */
  public static Zeroing start(SettlingRule rule, long startedAtNs) {
    return new Zeroing(SteadyWindow.start(rule, startedAtNs));
  }

  /**
   * With one more sample. Costs well under a microsecond on average.
   *
   * @param counts as the converter gave them
   * @param atNs monotonic time of the sample, not before the last
   * @throws IllegalArgumentException if the sample is not finite or out of order
   */
  public Zeroing with(double counts, long atNs) {
    return new Zeroing(window.with(counts, atNs));
  }

  /** How it stands after the samples so far. */
  public Outcome outcome() {
    return window
        .outcome()
        .match(
            continues -> new Outcome.Continues(),
            steady ->
                new Outcome.Taken(
                    new GaugeZero(
                        steady.mean(),
                        steady.uncertainty().value(),
                        steady.uncertainty().degreesOfFreedom(),
                        steady.samples())),
            gaveUp -> new Outcome.NotTaken(window.why(Zeroing::perSecond)));
  }

  /** The zero, once there is one. */
  public Optional<GaugeZero> taken() {
    return outcome() instanceof Outcome.Taken t ? Optional.of(t.zero()) : Optional.empty();
  }

  private static String perSecond(double countsPerSecond) {
    return String.format(Locale.ROOT, "%.1f counts", countsPerSecond);
  }
}
