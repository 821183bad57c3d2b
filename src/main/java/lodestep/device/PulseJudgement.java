package lodestep.device;

import lodestep.protocol.HeadFrame;

/**
 * What a pulse came to by the head's report.
 *
 * @param why one sentence when it was not delivered; else empty
 */
public record PulseJudgement(Outcome outcome, String why) {

  /** A peak below this part of the expected one is no pulse. */
  private static final double LEAST_PEAK_FRACTION = 0.1;

  /**
   * Judges a report.
   *
   * @param drivesNorth which sign of current was meant
   * @param expectedPeakAmps of that sign, &gt; 0
   */
  public static PulseJudgement of(
      boolean drivesNorth, double expectedPeakAmps, HeadFrame.PulseReport report) {
    int peakMilliAmps = drivesNorth ? report.peakForwardMilliAmps() : report.peakReverseMilliAmps();
    if (!report.fired()) {
      return new PulseJudgement(Outcome.NOT_FIRED, "the window closed without a pulse");
    }
    if (peakMilliAmps * 1e-3 < expectedPeakAmps * LEAST_PEAK_FRACTION) {
      return new PulseJudgement(Outcome.MISFIRED, "the coil carried next to no current");
    }
    return new PulseJudgement(Outcome.DELIVERED, "");
  }
}
