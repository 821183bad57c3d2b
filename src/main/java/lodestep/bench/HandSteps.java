package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Verdict;
import lodestep.dial.Zero;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.GaugeZero;
import lodestep.port.Command;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.Temperature;

/** What the states of work by hand share. */
final class HandSteps {

  /**
   * A gauge's own offset and the field of the room stay below this; more is a magnet at the gauge.
   * Common practice, no source.
   */
  static final double OFFSET_MAX_TESLA = 2e-3;

  private static final double MILLI = 1e3;

  /** While it is taken. */
  static final String ZERO_SENTENCE = "Hands off: the gauge takes its zero.";

  private HandSteps() {}

  /** One line of the head as flux density in tesla, signed; before the first zero by none. */
  static double tesla(HeadFrame.Status status, GaugeCalibration calibration, Optional<Zero> zero) {
    Temperature gauge = Temperature.ofDegC(status.gaugeCentiDegC() * 1e-2);
    double zeroCounts = zero.map(taken -> taken.gauge().counts()).orElse(0.0);
    return calibration.fluxDensity(status.hallCounts(), zeroCounts, gauge).tesla();
  }

  /** Asks for an empty nest, for the zero. */
  static String emptySentence(String nest) {
    return "Leave the "
        + nest
        + " empty and every magnet an arm's length away, then press Enter: the gauge takes its"
        + " zero.";
  }

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
