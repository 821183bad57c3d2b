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

  /** A bank that falls by more than this while the window is open was dumped, not bled. */
  private static final double BLED_MILLIVOLTS_MAX = 50;

  /** And by this part of its voltage: what the fastest bleeder, 30 s, takes in a window of 300 ms. */
  private static final double BLED_FRACTION_MAX = 0.01;

  /**
   * Judges a report. A head that hung in mid-pulse says that it saw none; its own figures of current
   * and bank are believed before that word.
   *
   * @param drivesNorth which sign of current was meant
   * @param expectedPeakAmps of that sign, &gt; 0
   */
  public static PulseJudgement of(
      boolean drivesNorth, double expectedPeakAmps, HeadFrame.PulseReport report) {
    int peakMilliAmps = drivesNorth ? report.peakForwardMilliAmps() : report.peakReverseMilliAmps();
    if (!report.fired() && showsPulse(expectedPeakAmps, report)) {
      return new PulseJudgement(
          Outcome.UNVERIFIED, "the head says that nothing was fired, and its figures say otherwise");
    }
    if (!report.fired()) {
      return new PulseJudgement(Outcome.NOT_FIRED, "the window closed without a pulse");
    }
    if (peakMilliAmps * 1e-3 < expectedPeakAmps * LEAST_PEAK_FRACTION) {
      return new PulseJudgement(Outcome.MISFIRED, "the coil carried next to no current");
    }
    return new PulseJudgement(Outcome.DELIVERED, "");
  }

  /** Whether current of either sign, or the bank's fall, shows a pulse that the head denies. */
  private static boolean showsPulse(double expectedPeakAmps, HeadFrame.PulseReport report) {
    int largest = Math.max(report.peakForwardMilliAmps(), report.peakReverseMilliAmps());
    int fallMilliVolts = report.bankBeforeMilliVolts() - report.bankAfterMilliVolts();
    double bledMilliVolts = BLED_MILLIVOLTS_MAX + BLED_FRACTION_MAX * report.bankBeforeMilliVolts();
    return largest * 1e-3 >= expectedPeakAmps * LEAST_PEAK_FRACTION
        || fallMilliVolts > bledMilliVolts;
  }
}
