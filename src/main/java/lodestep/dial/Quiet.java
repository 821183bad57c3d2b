package lodestep.dial;

import lodestep.config.Limits;
import lodestep.port.OutputLine;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/** When the gauge may be believed: nothing energised, coil current zero, bank bled, feed off. */
public final class Quiet {

  private Quiet() {}

  /** Whether nothing disturbs the gauge in this view, this source counted; unknown is not quiet. */
  public static boolean is(View view, Limits limits, FieldSource source) {
    return is(view, limits) && !source.disturbs(view);
  }

  /** Whether nothing is energised in this view; unknown is not quiet. */
  public static boolean is(View view, Limits limits) {
    if (view.status().isEmpty()) {
      return false;
    }
    HeadFrame.Status status = view.status().get().frame();
    boolean fresh = view.nowNs() - view.status().get().receivedAtNs() <= limits.statusAgeFireNs();
    boolean driven =
        view.driven().isHigh(OutputLine.COIL_FIRE)
            || view.driven().isHigh(OutputLine.BANK_FILL)
            || view.driven().isHigh(OutputLine.BANK_HOLD)
            || view.driven().isHigh(OutputLine.COIL_ON)
            || view.driven().isHigh(OutputLine.JIG_ENABLE);
    return fresh
        && !driven
        && !status.has(HeadFlag.WINDOW)
        && Math.abs(status.coilMilliAmps()) <= limits.currentZero().amps() * 1e3
        && status.bankMilliVolts() <= limits.bankLow().milliVolts();
  }
}
