package lodestep.device;

import java.util.List;
import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/** What the states of a shot share: reading the view, judging a report, making a step. */
final class ShotSteps {

  /** A peak below this part of the expected one is no pulse. */
  private static final double LEAST_PEAK_FRACTION = 0.1;

  private ShotSteps() {}

  static ActStep to(ShotState next, Outputs wanted, boolean permit) {
    return new ActStep(next, wanted, permit, List.of());
  }

  static ActStep ended(ShotPlan plan, int token, HeadFrame.PulseReport report) {
    return to(new ShotState.Ended(plan, judge(plan, token, report)), plan.relays(), false);
  }

  static ActStep notFired(ShotPlan plan, String why) {
    ShotResult result = new ShotResult(plan, Outcome.NOT_FIRED, 0, Optional.empty(), why);
    return to(new ShotState.Ended(plan, result), plan.relays(), false);
  }

  /** Judges a report: what was delivered, or why it does not count. */
  static ShotResult judge(ShotPlan plan, int token, HeadFrame.PulseReport report) {
    int peakMilliAmps =
        plan.pulse().drivesNorth() ? report.peakForwardMilliAmps() : report.peakReverseMilliAmps();
    if (!report.fired()) {
      return new ShotResult(
          plan, Outcome.NOT_FIRED, token, Optional.of(report), "the window closed without a pulse");
    }
    if (peakMilliAmps * 1e-3 < plan.expectedPeakAmps() * LEAST_PEAK_FRACTION) {
      return new ShotResult(
          plan,
          Outcome.MISFIRED,
          token,
          Optional.of(report),
          "the coil carried next to no current");
    }
    return new ShotResult(plan, Outcome.DELIVERED, token, Optional.of(report), "");
  }

  /** The report of this intent among the view's frames. */
  static Optional<HeadFrame.PulseReport> reportIn(View view, long intentNumber) {
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.PulseReport report
          && report.intentNumber() == intentNumber) {
        return Optional.of(report);
      }
    }
    return Optional.empty();
  }

  static boolean refused(ReceivedFrame received, ShotPlan plan) {
    return received.frame() instanceof HeadFrame.Refused refused
        && refused.intentNumber() == plan.intentNumber();
  }

  static boolean has(View view, HeadFlag flag) {
    return view.status().isPresent() && view.status().get().frame().has(flag);
  }

  /** Whether a status line came with this scan. */
  static boolean freshStatus(View view) {
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.Status) {
        return true;
      }
    }
    return false;
  }

  static int bankMilliVolts(View view) {
    return view.status().map(status -> status.frame().bankMilliVolts()).orElse(0);
  }

  /** Time until the bleeder has brought the bank to the asked voltage; 0 when it is there. */
  static double secondsToAsked(ShotPlan plan, View view) {
    double ratio = bankMilliVolts(view) / (double) plan.pulse().asked().milliVolts();
    return ratio <= 1 ? 0 : plan.bleederSeconds() * Math.log(ratio);
  }

  static boolean relaysInPlace(ShotPlan plan, View view) {
    boolean reverse = !plan.pulse().drivesNorth();
    return view.contacts().closed(InputLine.REVERSE_CONTACT) == reverse
        && view.contacts().closed(InputLine.FULL_CONTACT) == plan.pulse().full()
        && has(view, HeadFlag.REVERSE_CONTACT) == reverse
        && has(view, HeadFlag.FULL_CONTACT) == plan.pulse().full();
  }
}
