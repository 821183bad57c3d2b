package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Hand;
import lodestep.bench.PlanRow;
import lodestep.bench.TypedReading;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.Verdict;
import lodestep.measure.LiveReading;
import lodestep.port.HandCue;
import lodestep.port.LedgerEvent;
import lodestep.port.Tone;
import lodestep.quantity.FluxDensity;

/** What the commands need of a head with nothing driven. Every refusal is a {@link Refusal}. */
public interface HeadWork {

  /** Whether a person sits at a terminal, who watches and types. */
  boolean terminal();

  /** Opens the computer's sound device for a tone; waits a few seconds for it at most. */
  Tone.Opening tone();

  /** Shows what the head reads, until it is ended; nothing is recorded. */
  void read(ReadRun run, LiveWatcher watcher);

  /** Guides one magnet by hand to its verdict. */
  HandOutcome byHand(HandRun run, HandWatcher watcher);

  /**
   * A live reading.
   *
   * @param nest where the magnet sits
   * @param forSeconds how long; empty until a person ends it
   * @param zeroFirst whether the seat is empty and a zero is taken first
   * @param seed of a virtual rig
   * @param ledgerFile by whose calibration it is read; it is only looked into, and need not be
   *     there
   */
  record ReadRun(
      RigConfig rig,
      NestConfig nest,
      Optional<Double> forSeconds,
      boolean zeroFirst,
      long seed,
      Path ledgerFile) {}

  /**
   * What is read now.
   *
   * @param seconds since the start
   * @param nowNs monotonic time of this moment
   * @param silence what is wrong with the line, in one sentence; empty while lines come
   */
  record Live(LiveReading reading, double seconds, long nowNs, Optional<String> silence) {

    /** Time since the newest line; empty before the first. */
    public Optional<Double> ageSeconds() {
      return reading.ageNs(nowNs).map(ageNs -> ageNs * 1e-9);
    }

    /** Time since what is held was read; empty while nothing is held. */
    public Optional<Double> heldSeconds() {
      return reading.heldNs(nowNs).map(heldNs -> heldNs * 1e-9);
    }
  }

  /** Is told what is read, at most ten times a second, by the thread that called. */
  interface LiveWatcher {

    /** A head is there and answers; first of all, and not when there is none. */
    void begins();

    /** The reading as it is now. */
    void live(Live live);

    /** Something a person should know; one sentence. */
    void says(String sentence);
  }

  /**
   * One magnet by hand.
   *
   * @param row what is asked
   * @param ledgerFile where every event goes
   * @param typed other gauges' readings of it, known before
   * @param usualGauge the gauge meant when a typed reading names none; may be empty
   * @param seed of a virtual rig
   */
  record HandRun(
      RigConfig rig,
      PlanRow row,
      Path ledgerFile,
      List<TypedReading> typed,
      String usualGauge,
      long seed) {
    public HandRun {
      typed = List.copyOf(typed);
    }
  }

  /**
   * How it stands.
   *
   * @param sentence what happens now and what to do
   * @param value what is read now, signed; empty before the zero
   * @param seconds since the start
   * @param silence what is wrong with the line, in one sentence; empty while lines come
   */
  record HandLive(
      String sentence,
      HandCue cue,
      Optional<FluxDensity> value,
      double seconds,
      Optional<String> silence) {}

  /** Is told what happens, in its order, by the thread that called. */
  interface HandWatcher {

    /** The record was handed this event. */
    void event(LedgerEvent event, double seconds);

    /** How it stands, at most ten times a second and at every new sentence. */
    void now(HandLive live);

    /** Something a person should know; one sentence. */
    void says(String sentence);
  }

  /** How it ended. */
  record HandOutcome(Hand hand, Verdict verdict, String why, double seconds) {}
}
