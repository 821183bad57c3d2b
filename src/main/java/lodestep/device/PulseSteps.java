package lodestep.device;

import java.util.List;
import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/** What the states of a pulse share: reading the view, judging a report, making a step. */
final class PulseSteps {

  private PulseSteps() {}

  static ActStep to(PulseState next, Outputs wanted, boolean permit) {
    return new ActStep(next, wanted, permit, List.of());
  }

  /** The gate is low; the permit is kept for as long as something still hangs on it. */
  static ActStep after(PulseState next, View view, List<HeadRequest> requests) {
    Outputs outputs = next.plan().afterGate(view);
    return new ActStep(next, outputs, !outputs.equals(next.plan().relays()), requests);
  }

  static ActStep ended(PulsePlan plan, int token, HeadFrame.PulseReport report) {
    return to(new PulseState.Ended(plan, judge(plan, token, report)), plan.relays(), false);
  }

  static ActStep notFired(PulsePlan plan, String why) {
    PulseResult result = new PulseResult(plan, Outcome.NOT_FIRED, 0, Optional.empty(), why);
    return to(new PulseState.Ended(plan, result), plan.relays(), false);
  }

  /** Judges a report: what was delivered, or why it does not count. */
  static PulseResult judge(PulsePlan plan, int token, HeadFrame.PulseReport report) {
    PulseJudgement judged =
        PulseJudgement.of(plan.order().drivesNorth(), plan.expectedPeakAmps(), report);
    return new PulseResult(plan, judged.outcome(), token, Optional.of(report), judged.why());
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

  static boolean refused(ReceivedFrame received, PulsePlan plan) {
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

  /** Whether the newest status line came at this time or later. */
  static boolean lineSince(long atNs, View view) {
    return view.status().isPresent() && view.status().get().receivedAtNs() - atNs >= 0;
  }

  static int bankMilliVolts(View view) {
    return view.status().map(status -> status.frame().bankMilliVolts()).orElse(0);
  }

  /** Whether the head sees more current than none in the coil. */
  static boolean coilCarries(PulsePlan plan, View view) {
    double zeroMilliAmps = plan.limits().currentZero().amps() * 1e3;
    return view.status().isPresent()
        && Math.abs(view.status().get().frame().coilMilliAmps()) > zeroMilliAmps;
  }

  /** Whether changeover and range relay stand as in these outputs, for host and head alike. */
  static boolean relaysInPlace(Outputs relays, View view) {
    boolean reverse = relays.isHigh(OutputLine.COIL_REVERSE);
    boolean full = relays.isHigh(OutputLine.COIL_FULL);
    return view.contacts().closed(InputLine.REVERSE_CONTACT) == reverse
        && view.contacts().closed(InputLine.FULL_CONTACT) == full
        && has(view, HeadFlag.REVERSE_CONTACT) == reverse
        && has(view, HeadFlag.FULL_CONTACT) == full;
  }
}
