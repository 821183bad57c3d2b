package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.function.IntUnaryOperator;
import lodestep.dial.DialState.AwaitMove;
import lodestep.dial.DialState.Halted;
import lodestep.dial.DialState.Settle;
import lodestep.dial.RigMemory.SeenEven;
import lodestep.measure.Seating;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import lodestep.quantity.TimeSpan;
import org.junit.jupiter.api.Test;

/**
 * Goal: nothing is made of the reading of a magnet that is warmer or colder than its nest. Times
 * are in milliseconds; 500 counts are a millitesla.
 */
class LetEvenOutTest {

  private static final long MS = DialScan.MS;
  private static final long MINUTE_MS = 60_000;

  /** 30,000 counts above the zero are 60 mT. */
  private static final int AT_60_MT = 30_100;

  private static Attempt attempt() {
    Attempt attempt = new Attempt().charged(0.06);
    attempt.even = false;
    return attempt;
  }

  private static DialStep begun(Attempt attempt) {
    return DialStep.quiet(Settle.after(attempt.dial(), "charged", 0));
  }

  private static DialScan at(long ms) {
    return new DialScan(ms * MS);
  }

  private static boolean waits(DialStep step) {
    return step.next() instanceof Settle || step.next() instanceof LetEvenOut;
  }

  /** A line every 10 ms, until it waits no longer or the time has come. */
  private static Seen play(DialStep from, IntUnaryOperator countsAtMs, int firstMs, int lastMs) {
    DialStep step = from;
    int ms = firstMs;
    String told = "";
    while (ms <= lastMs && waits(step)) {
      // One count up and down: a converter that stands still is a frozen one.
      int seen = countsAtMs.applyAsInt(ms) + (ms / 10 % 2 == 0 ? 1 : -1);
      step = step.next().step(at(ms).hall(seen).line());
      told = step.next().sentence().contains("creeps") ? step.next().sentence() : told;
      ms += 10;
    }
    return new Seen(step, ms, told);
  }

  private record Seen(DialStep step, int untilMs, String told) {

    double readTesla() {
      return ((ReadingTaken) step.events().get(0)).fieldMicroTesla() * 1e-6;
    }
  }

  @Test
  void magnetAsWarmAsItsNestIsReadAfterSomeSecondsMoreAndTheNextOneAtOnce() {
    Seen first = play(begun(attempt()), ms -> AT_60_MT, 5, 20_000);
    Attempt after = attempt();
    after.memory = first.step().next().dial().memory();
    Seen next = play(begun(after), ms -> AT_60_MT, first.untilMs(), 40_000);

    assertThat(first.step().next()).isInstanceOf(AwaitMove.class);
    assertThat(first.untilMs()).isBetween(4_600, 12_600);
    assertThat(first.readTesla()).isCloseTo(0.06, within(1e-5));
    assertThat(first.told()).isEmpty();
    assertThat(next.step().next()).isInstanceOf(AwaitMove.class);
    assertThat(next.untilMs() - first.untilMs()).isLessThan(2_000);
  }

  /** It reads 0.6 mT low, and comes back with a time constant of 50 s. */
  @Test
  void warmMagnetLiesUntilItNoLongerCreepsAndIsReadThen() {
    IntUnaryOperator warm = ms -> AT_60_MT - (int) Math.round(300 * Math.exp(-ms / 50_000.0));

    Seen seen = play(begun(attempt()), warm, 5, 600_000);

    assertThat(seen.told())
        .startsWith("the magnet is warmer or colder than its nest: its reading creeps by +")
        .endsWith(" G a minute; waiting until it lies still; leave it in its nest");
    assertThat(seen.step().next()).isInstanceOf(AwaitMove.class);
    assertThat(seen.untilMs()).isGreaterThan(100_000);
    assertThat(seen.readTesla()).isCloseTo(0.06, within(8e-5));
    assertThat(seen.step().next().dial().even()).isTrue();
    // The next one of that box may be as warm.
    assertThat(seen.step().next().dial().memory().even()).isEmpty();
  }

  @Test
  void magnetThatNeverLiesStillHaltsTheWork() {
    Seen seen = play(begun(attempt()), ms -> AT_60_MT + ms / 100, 5, 30 * (int) MINUTE_MS);

    assertThat(seen.step().next())
        .isInstanceOfSatisfying(
            Halted.class,
            halted ->
                assertThat(halted.why())
                    .isEqualTo("the magnet does not come to the warmth of its nest"));
    assertThat(seen.untilMs()).isBetween(20 * (int) MINUTE_MS, 21 * (int) MINUTE_MS);
  }

  @Test
  void magnetTakenOutMeanwhileHaltsTheWork() {
    Seen watched = play(begun(attempt()), ms -> AT_60_MT, 5, 2_500);
    assertThat(watched.step().next()).isInstanceOf(LetEvenOut.class);

    DialStep step = watched.step().next().step(at(2_600).open(InputLine.WORK_SEAT).line());

    assertThat(step.next())
        .isInstanceOfSatisfying(
            Halted.class, halted -> assertThat(halted.why()).contains("was taken out"));
  }

  @Test
  void disturbedGaugeBeginsAnew() {
    Seen watched = play(begun(attempt()), ms -> AT_60_MT, 5, 2_500);
    DialScan scan = at(2_600);
    scan.bankMilliVolts = 60_000;

    assertThat(watched.step().next().step(scan.line()).next())
        .isInstanceOfSatisfying(
            Settle.class, again -> assertThat(again.sinceNs()).isEqualTo(2_600 * MS));
  }

  @Test
  void whatReadsNearlyNothingShowsNoWarmthAndIsNotWatched() {
    Seen seen = play(begun(attempt()), ms -> 1_100, 5, 3_000);

    assertThat(seen.step().next()).isInstanceOf(AwaitMove.class);
    assertThat(seen.step().next().dial().even()).isFalse();
  }

  @Test
  void afterKnockDownTheMagnetItselfCreepsAndIsNotWatched() {
    Attempt knocked = new Attempt().knocked(20_000, 0.06);
    knocked.even = false;

    Seen seen = play(begun(knocked), ms -> AT_60_MT, 5, 3_000);

    assertThat(seen.step().next()).isInstanceOf(AwaitMove.class);
  }

  /** Held by hand: fifteen minutes, or five kelvin at the gauge, and it is to be seen anew. */
  @Test
  void magnetSeenEvenSpeaksForTheOthersForAWhileAndAtALikeTemperature() {
    SeenEven seen = new SeenEven(Temperature.ofDegC(24), 100 * MS);

    assertThat(seen.holds(Temperature.ofDegC(28.9), 100 * MS)).isTrue();
    assertThat(seen.holds(Temperature.ofDegC(29.1), 100 * MS)).isFalse();
    assertThat(seen.holds(Temperature.ofDegC(18.9), 100 * MS)).isFalse();
    assertThat(seen.holds(Temperature.ofDegC(24), 100 * MS + 15 * MINUTE_MS * MS)).isFalse();
    assertThat(seen.holds(Temperature.ofDegC(24), 99 * MS + 15 * MINUTE_MS * MS)).isTrue();
  }

  @Test
  void magnetThatIsComparedWithItsOldReadingIsWatchedWhateverTheOthersWere() {
    Attempt again = attempt();
    again.lastMove = Optional.empty();
    again.memory = again.memory.with(Optional.of(new SeenEven(Temperature.ofDegC(20), 0)));
    Seen known = play(begun(again), ms -> AT_60_MT, 5, 2_500);
    again.again =
        Optional.of(
            new Accepted(
                17,
                new FluxDensity(0.06),
                FluxDensity.ofGauss(0.5),
                true,
                Temperature.ofDegC(20),
                new FluxDensity(0.06),
                FluxDensity.ofGauss(8),
                new TimeSpan(86_400),
                FluxDensity.ofGauss(0),
                -2e-4,
                1e-4,
                Seating.USUAL));
    Seen compared = play(begun(again), ms -> AT_60_MT, 5, 2_500);

    assertThat(known.step().next()).isInstanceOf(AwaitMove.class);
    assertThat(compared.step().next()).isInstanceOf(LetEvenOut.class);
  }

  /** Ten kelvin lie between the magnet that was seen even and this one. */
  @Test
  void magnetSeenEvenInAnotherWarmthDoesNotSpeakForThisOne() {
    Attempt warmer = attempt();
    warmer.memory = warmer.memory.with(Optional.of(new SeenEven(Temperature.ofDegC(30), 0)));
    Attempt alike = attempt();
    alike.memory = alike.memory.with(Optional.of(new SeenEven(Temperature.ofDegC(21), 0)));

    assertThat(play(begun(warmer), ms -> AT_60_MT, 5, 2_500).step().next())
        .isInstanceOf(LetEvenOut.class);
    assertThat(play(begun(alike), ms -> AT_60_MT, 5, 2_500).step().next())
        .isInstanceOf(AwaitMove.class);
  }

  /** How long the rig had run before the magnet came does not shorten its wait. */
  @Test
  void magnetThatCreepsIsGivenItsTimeHoweverLongTheRigHasRun() {
    int from = 60 * (int) MINUTE_MS;
    DialStep begun = DialStep.quiet(Settle.after(attempt().dial(), "charged", from * MS));

    Seen seen = play(begun, ms -> AT_60_MT + (ms - from) / 100, from + 5, from + 30_000);

    assertThat(seen.told()).contains("creeps");
    assertThat(seen.step().next()).isInstanceOf(LetEvenOut.class);
  }
}
