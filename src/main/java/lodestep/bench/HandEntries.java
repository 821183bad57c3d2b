package lodestep.bench;

import java.util.Optional;
import lodestep.dial.Purpose;
import lodestep.dial.Verdict;
import lodestep.measure.Acceptance;
import lodestep.measure.SettledReading;
import lodestep.port.LedgerEvent;
import lodestep.port.View;
import lodestep.quantity.FluxDensity;

/** What work by hand writes into the record. */
final class HandEntries {

  private static final double NANO = 1e9;

  private HandEntries() {}

  static LedgerEvent started(Hand hand) {
    return new LedgerEvent.MagnetStarted(
        hand.magnet(), hand.attempt(), hand.work().row().nest().name(), "by hand");
  }

  /** The newest reading. */
  static LedgerEvent reading(Hand hand, Optional<HandAct> after, View view) {
    SettledReading reading = hand.progress().last().orElseThrow();
    return new LedgerEvent.ReadingTaken(
        hand.magnet(),
        after.map(act -> stageAfter(act.purpose())).orElse("as found"),
        reading.value().microTesla(),
        Math.round(reading.standardUncertainty().tesla() * NANO),
        reading.samples(),
        view.status().map(status -> (long) status.frame().gaugeCentiDegC()).orElse(0L),
        hand.work().row().nest().name(),
        hand.work().row().nest().standOff().microMetres(),
        hand.zero().orElseThrow().number(),
        hand.calibrationNumber());
  }

  /** The act that led to the newest reading. */
  static LedgerEvent act(Hand hand, HandAct act, double nearestTesla) {
    return new LedgerEvent.ActByHand(
        hand.magnet(),
        hand.attempt(),
        hand.progress().counts().acts(),
        act.purpose().word(),
        act.drivesNorth(),
        act.asked(),
        act.before().microTesla(),
        hand.progress().lastValue().microTesla(),
        Math.round(Math.abs(nearestTesla) * 1e6));
  }

  static LedgerEvent verdict(Hand hand, Verdict verdict, String why) {
    Optional<HandWork.Target> target = hand.target();
    Optional<SettledReading> last = hand.progress().last();
    HandProgress.Counts counts = hand.progress().counts();
    return new LedgerEvent.VerdictGiven(
        hand.magnet(),
        hand.attempt(),
        verdict.word(),
        hand.progress().lastValue().microTesla(),
        last.map(reading -> Math.round(reading.standardUncertainty().tesla() * NANO)).orElse(0L),
        target.map(band -> band.level().microTesla()).orElse(0L),
        target.map(band -> band.tolerance().microTesla()).orElse(0L),
        last.map(reading -> guardNanoTesla(hand.work().ofLevel(reading))).orElse(0L),
        counts.charges(),
        counts.knockDowns(),
        counts.demagnetising(),
        why);
  }

  private static long guardNanoTesla(FluxDensity u) {
    double expanded = Acceptance.COVERAGE * u.tesla();
    return Math.round(Acceptance.GUARD_FACTOR * expanded * NANO);
  }

  private static String stageAfter(Purpose purpose) {
    return switch (purpose) {
      case CHARGE -> "charged";
      case KNOCK_DOWN -> "knocked down";
      case DEMAGNETISE -> "demagnetised";
      case PROOF -> "proof";
    };
  }
}
