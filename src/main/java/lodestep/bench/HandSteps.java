package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Verdict;
import lodestep.measure.GaugeZero;
import lodestep.port.Command;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.port.View;

/** What the states of work by hand share. */
final class HandSteps {

  /**
   * A gauge's own offset and the field of the room stay below this; more is a magnet at the gauge.
   * Common practice, no source.
   */
  static final double OFFSET_MAX_TESLA = 2e-3;

  private static final double MILLI = 1e3;

  private HandSteps() {}

  static JobStep to(Guided next) {
    return to(next, List.of());
  }

  /** Nothing is ever energised, and no permit asked for. */
  static JobStep to(Guided next, List<LedgerEvent> events) {
    return new JobStep(next, Outputs.ALL_LOW, false, events, List.of(), Optional.empty());
  }

  /** The end; a magnet that was started gets its verdict. */
  static JobStep end(Hand hand, Verdict verdict, String why, List<LedgerEvent> before) {
    List<LedgerEvent> events = new ArrayList<>(before);
    if (hand.attempt() > 0) {
      events.add(HandEntries.verdict(hand, verdict, why));
    }
    return to(new HandJob.Done(hand, verdict, why), events);
  }

  static JobStep follow(HandNext.Next next, Hand hand, List<LedgerEvent> events) {
    if (next instanceof HandNext.Next.Ends ends) {
      return end(hand, ends.verdict(), ends.why(), events);
    }
    return to(((HandNext.Next.Goes) next).job(), events);
  }

  static boolean goOn(View view) {
    return view.commands().contains(Command.CONTINUE);
  }

  static LedgerEvent zeroTaken(GaugeZero zero, long calibration, View view) {
    return new LedgerEvent.ZeroTaken(
        Math.round(zero.counts() * MILLI),
        Math.round(zero.standardUncertaintyCounts() * MILLI),
        zero.samples(),
        view.status().map(status -> (long) status.frame().gaugeCentiDegC()).orElse(0L),
        calibration);
  }

  static String joined(String news, String sentence) {
    return news.isEmpty() ? sentence : capital(news) + " " + sentence;
  }

  static String capital(String sentence) {
    return sentence.substring(0, 1).toUpperCase(Locale.ROOT) + sentence.substring(1);
  }
}
