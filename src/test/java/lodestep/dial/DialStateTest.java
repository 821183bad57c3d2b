package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import lodestep.device.PulseState;
import lodestep.dial.DialState.Acting;
import lodestep.dial.DialState.AwaitMove;
import lodestep.dial.DialState.Finished;
import lodestep.dial.DialState.Halted;
import lodestep.dial.DialState.Settle;
import lodestep.port.ActEvent;
import lodestep.port.HandAsk;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/** Goal: what follows from one view while an attempt reads and plans. Times are in milliseconds. */
class DialStateTest {

  private static final long MS = DialScan.MS;

  /** 30,000 counts above the zero are 60 mT. */
  private static final int AT_60_MT = 30_100;

  private static final Move.Fire KNOCK =
      new Move.Fire(Purpose.KNOCK_DOWN, new FieldStrength(20_000), false);

  private static DialScan at(long ms) {
    return new DialScan(ms * MS);
  }

  private static void assertQuiet(DialStep step) {
    assertThat(step.wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(step.permit()).isFalse();
    assertThat(step.events()).isEmpty();
    assertThat(step.requests()).isEmpty();
    assertThat(step.question()).isEmpty();
  }

  private static void assertHalts(DialStep step, String why) {
    assertQuiet(step);
    assertThat(step.next())
        .isInstanceOfSatisfying(Halted.class, h -> assertThat(h.why()).isEqualTo(why));
  }

  // Beginning.

  @Test
  void beginsWithAReadingAsFound() {
    Settle begun = (Settle) DialState.begin(new Attempt().dial(), 7 * MS);

    assertThat(begun.stage()).isEqualTo("as found");
    assertThat(begun.sinceNs()).isEqualTo(7 * MS);
    assertThat(begun.dial().progress()).isEqualTo(Progress.none());
    assertThat(begun.sentence()).isEqualTo("reading the magnet");
    assertThat(begun.cue().ask()).isEqualTo(HandAsk.WAIT);
  }

  /** It was charged by hand before it was put in, so the first reading is that of a charge. */
  @Test
  void beginsAfterTheChargeThatAPersonHasMade() {
    Attempt attempt = new Attempt();
    attempt.charge = Optional.empty();
    attempt.pole = PoleUp.SOUTH;

    Settle begun = (Settle) DialState.begin(attempt.dial(), 0);

    assertThat(begun.stage()).isEqualTo("charged");
    Progress progress = begun.dial().progress();
    assertThat(progress.counts().charges()).isEqualTo(1);
    assertThat(progress.counts().pulses()).isEqualTo(1);
    assertThat(progress.lastMove())
        .contains(new Move.Fire(Purpose.CHARGE, new FieldStrength(0), false));

    attempt.task = Attempt.downBy(0.01, 0.001);
    assertThat(((Settle) DialState.begin(attempt.dial(), 0)).stage()).isEqualTo("as found");
  }

  // Settling.

  private static Settle settle(Attempt attempt, String stage) {
    return Settle.after(attempt.dial(), stage, 0);
  }

  /** A line every 10 ms from the time it is at rest, until it is read or the time has come. */
  private static DialStep settled(DialState from, int counts, long firstMs, long lastMs) {
    DialStep step = DialStep.quiet(from);
    for (long ms = firstMs; ms <= lastMs && step.next() instanceof Settle; ms += 10) {
      // One count up and down: a converter that stands still is a frozen one.
      int seen = counts + (ms / 10 % 2 == 0 ? 1 : -1);
      step = step.next().step(at(ms).hall(seen).line());
    }
    return step;
  }

  @Test
  void readsOnceTheGaugeHasSettledAndAsksThePlanner() {
    Attempt attempt = new Attempt().charged(0.06);
    attempt.questions = 4;

    DialStep step = settled(settle(attempt, "charged"), AT_60_MT, 5, 3_000);

    assertThat(step.next()).isInstanceOf(AwaitMove.class);
    Dial dial = step.next().dial();
    assertThat(dial.questions()).isEqualTo(5);
    assertThat(dial.progress().last().orElseThrow().value().tesla()).isCloseTo(0.06, within(1e-5));
    assertThat(step.wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(step.permit()).isFalse();
    assertThat(step.requests()).isEmpty();
    assertThat(step.events())
        .singleElement()
        .isInstanceOfSatisfying(
            LedgerEvent.ReadingTaken.class,
            taken -> {
              assertThat(taken.stage()).isEqualTo("charged");
              assertThat(taken.fieldMicroTesla()).isBetween(59_990L, 60_010L);
            });
    MoveQuestion question = (MoveQuestion) step.question().orElseThrow();
    assertThat(question.number()).isEqualTo(5);
    assertThat(question.progress()).isEqualTo(dial.progress());
    assertThat(question.coilTemperature().degC()).isCloseTo(20, within(1e-9));
    assertThat(question.solve().number()).isEqualTo(5);
    assertThat(question.solve().move()).isInstanceOf(Move.Finish.class);
  }

  @Test
  void putsAChargeByHandOnRecordWithTheReadingAfterIt() {
    Attempt attempt = new Attempt();
    attempt.charge = Optional.empty();

    DialStep charged = settled(DialState.begin(attempt.dial(), 0), AT_60_MT, 5, 3_000);
    DialStep found = settled(settle(attempt, "as found"), AT_60_MT, 5, 3_000);
    DialStep byCoil = settled(settle(new Attempt(), "charged"), AT_60_MT, 5, 3_000);

    assertThat(charged.events()).hasSize(2);
    assertThat(charged.events().get(0)).isInstanceOf(LedgerEvent.ActByHand.class);
    assertThat(found.events()).hasSize(1);
    assertThat(byCoil.events()).hasSize(1);
  }

  @Test
  void takesNoSampleInTheFirstTenthOfASecondOfQuiet() {
    Settle begun = settle(new Attempt(), "as found");

    DialStep before = begun.step(at(99).hall(AT_60_MT).line());
    DialStep after = begun.step(at(100).hall(AT_60_MT).line());

    assertThat(before.next()).isEqualTo(begun);
    assertThat(after.next()).isInstanceOf(Settle.class).isNotEqualTo(begun);
  }

  @Test
  void beginsAnewWhileItIsNotQuiet() {
    Settle begun = settle(new Attempt(), "as found");

    DialStep disturbed = begun.step(at(400).driven(OutputLine.BANK_HOLD).line());

    assertQuiet(disturbed);
    Settle next = (Settle) disturbed.next();
    assertThat(next.quietSinceNs()).isEqualTo(400 * MS);
    assertThat(next.sinceNs()).isZero();
    assertThat(next.stage()).isEqualTo("as found");
    // What was sampled before counts no more: it takes another half second and a tenth.
    DialStep early = settled(next, AT_60_MT, 405, 990);
    assertThat(early.next()).isInstanceOf(Settle.class);
    assertThat(settled(early.next(), AT_60_MT, 995, 1_500).next()).isInstanceOf(AwaitMove.class);
  }

  @Test
  void givesUpAfterAMinuteWithoutRest() {
    Settle begun = Settle.after(new Attempt().dial(), "as found", 40_000 * MS);

    assertThat(begun.step(at(100_000).driven(OutputLine.BANK_HOLD).line()).next())
        .isInstanceOf(Settle.class);
    assertHalts(begun.step(at(100_001).line()), "the gauge did not come to rest");
  }

  @Test
  void givesUpOnAGaugeThatDrifts() {
    DialStep step = DialStep.quiet(settle(new Attempt(), "as found"));
    for (long ms = 5; ms <= 12_000 && step.next() instanceof Settle; ms += 10) {
      step = step.next().step(at(ms).hall((int) (ms * 3)).line());
    }

    assertThat(step.next())
        .isInstanceOfSatisfying(Halted.class, h -> assertThat(h.why()).contains("mT"));
    assertQuiet(step);
  }

  // The planner's answer.

  private static AwaitMove await(Attempt attempt) {
    attempt.questions = 6;
    return new AwaitMove(attempt.dial(), 5_000 * MS, 4_000 * MS);
  }

  @Test
  void waitsTenSecondsForThePlanner() {
    AwaitMove await = await(new Attempt());

    DialStep waiting = await.step(at(15_000).line());
    assertQuiet(waiting);
    assertThat(waiting.next()).isEqualTo(await);
    assertHalts(await.step(at(15_001).line()), "the planner gave no answer");
    assertThat(await.sentence()).isEqualTo("choosing the next pulse");
  }

  @Test
  void takesNoAnswerToAnOlderQuestion() {
    Move.Finish end = new Move.Finish(Verdict.REFUSED, "because");
    AwaitMove await = await(new Attempt().charged(0.06));

    assertThat(await.step(at(10).answer(new MoveAnswer(5, end)).line()).next()).isEqualTo(await);

    DialStep over = await.step(at(10).answer(new MoveAnswer(6, end)).line());
    assertThat(over.next()).isEqualTo(new Finished(await.dial(), end));
    assertThat(over.events())
        .singleElement()
        .isInstanceOfSatisfying(
            LedgerEvent.VerdictGiven.class,
            given -> {
              assertThat(given.verdict()).isEqualTo("refused");
              assertThat(given.why()).isEqualTo("because");
            });
    assertThat(over.wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(over.next().sentence()).isEqualTo("refused");
    assertThat(over.next().step(at(20).line())).isEqualTo(DialStep.quiet(over.next()));
  }

  @Test
  void beginsTheActThatThePlannerWants() {
    Attempt attempt = new Attempt().charged(0.1);
    AwaitMove await = await(attempt);

    DialStep step = await.step(at(10).answer(new MoveAnswer(6, KNOCK)).line());

    Acting acting = (Acting) step.next();
    assertThat(acting.move()).isEqualTo(KNOCK);
    assertThat(acting.dial().progress().counts().knockDowns()).isEqualTo(1);
    assertThat(step.wanted()).isEqualTo(Outputs.ALL_LOW);
    ActEvent.PulseIntended intent = (ActEvent.PulseIntended) step.events().get(0);
    assertThat(intent.magnet()).isEqualTo(7);
    assertThat(intent.attempt()).isEqualTo(3);
    assertThat(intent.ordinal()).isEqualTo(2);
    assertThat(intent.purpose()).isEqualTo("knock down");
    assertThat(intent.drivesNorth()).isFalse();
    assertThat(intent.fieldAmperesPerMetre()).isEqualTo(20_000);
    PulseState.AwaitIntent first = (PulseState.AwaitIntent) acting.act();
    assertThat(first.plan().intentNumber()).isEqualTo(DialScan.NEXT_NUMBER);
  }

  @Test
  void takesTheTemperatureOfTheNewestLine() {
    DialScan never = at(0);
    never.lineBefore = false;

    assertThat(Gauge.coilTemperature(at(0).coilAt(31.25).view()))
        .isEqualTo(Temperature.ofDegC(31.25));
    assertThat(Gauge.coilTemperature(never.view())).isEqualTo(Temperature.ofDegC(20));
  }
}
