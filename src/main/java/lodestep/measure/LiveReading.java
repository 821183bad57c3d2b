package lodestep.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/**
 * What a gauge reads from line to line: shown to a person, never recorded as a settled reading. Any
 * thread, immutable; a new line makes a new reading.
 *
 * @param zeroCounts counts that stand for no field
 * @param newest lines of the last second, oldest first
 * @param smallest least flux density of any line since the reset, signed
 * @param largest greatest flux density of any line since the reset, signed
 * @param held what was shown when a person asked to hold, and when its newest line came
 */
public record LiveReading(
    GaugeCalibration calibration,
    double zeroCounts,
    List<Sample> newest,
    Optional<FluxDensity> smallest,
    Optional<FluxDensity> largest,
    Optional<Sample> held) {

  /** What is shown is the mean of this long: a single line's noise would make it flicker. */
  private static final long SHOWN_NS = 100_000_000L;

  /** Wander is what a person sees the figure do in about a second. */
  private static final long WANDER_NS = 1_000_000_000L;

  /** A flux density, and when its newest line came in monotonic nanoseconds. */
  public record Sample(double tesla, long atNs) {}

  public LiveReading {
    newest = List.copyOf(newest);
  }

  /** Nothing read yet. */
  public static LiveReading start(GaugeCalibration calibration, double zeroCounts) {
    return new LiveReading(
        calibration, zeroCounts, List.of(), Optional.empty(), Optional.empty(), Optional.empty());
  }

  /**
   * With one more line.
   *
   * @param atNs monotonic time it came, not before the last
   */
  public LiveReading with(int counts, Temperature gauge, long atNs) {
    FluxDensity value = calibration.fluxDensity(counts, zeroCounts, gauge);
    List<Sample> lines = new ArrayList<>();
    for (Sample line : newest) {
      if (atNs - line.atNs() < WANDER_NS) {
        lines.add(line);
      }
    }
    lines.add(new Sample(value.tesla(), atNs));
    return new LiveReading(
        calibration,
        zeroCounts,
        lines,
        Optional.of(smallest.filter(least -> least.compareTo(value) <= 0).orElse(value)),
        Optional.of(largest.filter(most -> most.compareTo(value) >= 0).orElse(value)),
        held);
  }

  /** The mean of the newest tenth of a second, signed; empty before the first line. */
  public Optional<FluxDensity> value() {
    if (newest.isEmpty()) {
      return Optional.empty();
    }
    long lastAtNs = lastLine().atNs();
    double mean =
        newest.stream()
            .filter(line -> lastAtNs - line.atNs() < SHOWN_NS)
            .mapToDouble(Sample::tesla)
            .average()
            .orElse(0);
    return Optional.of(new FluxDensity(mean));
  }

  /** From the least to the greatest line of the last second, &ge; 0; zero before the second. */
  public FluxDensity wander() {
    double least = newest.stream().mapToDouble(Sample::tesla).min().orElse(0);
    double most = newest.stream().mapToDouble(Sample::tesla).max().orElse(0);
    return new FluxDensity(most - least);
  }

  /** Time since the newest line, in nanoseconds; empty before the first. */
  public Optional<Long> ageNs(long nowNs) {
    return newest.isEmpty() ? Optional.empty() : Optional.of(nowNs - lastLine().atNs());
  }

  /** Time since what is held was read, in nanoseconds; empty while nothing is held. */
  public Optional<Long> heldNs(long nowNs) {
    return held.map(kept -> nowNs - kept.atNs());
  }

  /** Holds the value of this moment, or lets the held one go. */
  public LiveReading holdOrRelease() {
    Optional<Sample> next =
        held.isPresent()
            ? Optional.empty()
            : value().map(shown -> new Sample(shown.tesla(), lastLine().atNs()));
    return new LiveReading(calibration, zeroCounts, newest, smallest, largest, next);
  }

  /** Forgets the smallest and the largest. */
  public LiveReading reset() {
    return new LiveReading(
        calibration, zeroCounts, newest, Optional.empty(), Optional.empty(), held);
  }

  /** With another zero; what was read by the old one is forgotten. */
  public LiveReading withZero(double counts) {
    return start(calibration, counts);
  }

  private Sample lastLine() {
    return newest.get(newest.size() - 1);
  }
}
