package lodestep.device;

import java.util.Optional;
import lodestep.protocol.HeadFrame;

/**
 * How a shot ended.
 *
 * @param outcome in the words of the record
 * @param token the token used, or 0
 * @param report what the head measured, when it said so
 * @param why one sentence when the pulse was not delivered; else empty
 */
public record ShotResult(
    Outcome outcome, int token, Optional<HeadFrame.PulseReport> report, String why) {

  /** A peak below this part of the expected one is no pulse. */
  private static final double LEAST_PEAK_FRACTION = 0.1;

  /**
   * Judges a report: what was delivered, or why it does not count.
   *
   * @param drivesNorth which sign of current was meant
   * @param expectedPeakAmps of that sign, &gt; 0
   * @param token the token used
   */
  public static ShotResult judged(
      boolean drivesNorth, double expectedPeakAmps, int token, HeadFrame.PulseReport report) {
    int peakMilliAmps = drivesNorth ? report.peakForwardMilliAmps() : report.peakReverseMilliAmps();
    if (!report.fired()) {
      return new ShotResult(
          Outcome.NOT_FIRED, token, Optional.of(report), "the window closed without a pulse");
    }
    if (peakMilliAmps * 1e-3 < expectedPeakAmps * LEAST_PEAK_FRACTION) {
      return new ShotResult(
          Outcome.MISFIRED, token, Optional.of(report), "the coil carried next to no current");
    }
    return new ShotResult(Outcome.DELIVERED, token, Optional.of(report), "");
  }

  /** The ends a pulse can have; after a crash there is also "unknown". */
  public enum Outcome {
    /** Fired, measured, current as expected. */
    DELIVERED("delivered"),
    /** The gate was driven but the coil carried no fitting current. */
    MISFIRED("misfired"),
    /** The gate was never driven. */
    NOT_FIRED("not fired"),
    /** The gate was driven and no report came. */
    UNVERIFIED("unverified");

    private final String word;

    Outcome(String word) {
      this.word = word;
    }

    /** As it stands in the record. */
    public String word() {
      return word;
    }
  }
}
