package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import lodestep.device.Act;
import lodestep.device.PulseState;
import lodestep.device.ShotPlan;
import lodestep.dial.DialState.Acting;
import lodestep.dial.DialState.AwaitMove;
import lodestep.dial.DialState.ByHand;
import lodestep.dial.DialState.Finished;
import lodestep.dial.DialState.Halted;
import lodestep.dial.DialState.Rest;
import lodestep.dial.DialState.Settle;
import lodestep.port.ActEvent;
import lodestep.port.HandAsk;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Goal: what follows from one view in each state of an attempt. Times are in milliseconds. */
class DialStateTest {

  private static final long MS = DialScan.MS;

  /** 30,000 counts above the zero are 60 mT. */
  private static final int AT_60_MT = 30_100;

  private static final Move.Fire KNOCK =
      new Move.Fire(Purpose.KNOCK_DOWN, new FieldStrength(20_000), false);
  private static final Move.Fire CHARGE =
      new Move.Fire(Purpose.CHARGE, new FieldStrength(500_000), true);

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
    return new AwaitMove(attempt.dial(), 5_000 * MS);
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

  // Resting.

  @Test
  void restsWhileTheCoilIsWarm() {
    Dial dial = new Attempt().charged(0.1).dial();

    DialStep warm = Rest.orFire(dial, KNOCK, at(500).coilAt(50.5).line());
    assertQuiet(warm);
    assertThat(warm.next()).isEqualTo(new Rest(dial, KNOCK, 500 * MS));
    assertThat(warm.next().sentence()).isEqualTo("letting the coil cool");
    assertThat(Rest.orFire(dial, KNOCK, at(500).coilAt(49.5).line()).next())
        .isInstanceOf(Acting.class);

    DialStep still = warm.next().step(at(9_000).coilAt(42.5).line());
    assertQuiet(still);
    assertThat(still.next()).isEqualTo(warm.next());
    assertThat(warm.next().step(at(9_000).coilAt(41.5).line()).next()).isInstanceOf(Acting.class);
  }

  @Test
  void saysAfterTwentyMinutesThatTheCoilDoesNotCool() {
    Rest rest = new Rest(new Attempt().charged(0.1).dial(), KNOCK, 5_000 * MS);

    assertThat(rest.step(at(1_205_000).coilAt(60).line()).next()).isEqualTo(rest);
    assertHalts(rest.step(at(1_205_001).coilAt(60).line()), "the coil does not cool");
  }

  @Test
  void doesNotRestBeforeAChargeByHand() {
    Attempt attempt = new Attempt();
    attempt.charge = Optional.empty();

    DialStep byHand = Rest.orFire(attempt.dial(), CHARGE, at(0).coilAt(60).line());
    assertQuiet(byHand);
    assertThat(byHand.next()).isInstanceOf(ByHand.class);
    assertThat(byHand.next().dial().progress().counts().charges()).isEqualTo(1);
    // A charge by the coil and a knock-down beside a charge by hand do.
    assertThat(Rest.orFire(new Attempt().dial(), CHARGE, at(0).coilAt(60).line()).next())
        .isInstanceOf(Rest.class);
    assertThat(Rest.orFire(attempt.dial(), KNOCK, at(0).coilAt(60).line()).next())
        .isInstanceOf(Rest.class);
  }

  // By hand.

  private static ByHand byHand(boolean taken, boolean pedalUp) {
    Attempt attempt = new Attempt();
    attempt.charge = Optional.empty();
    attempt.charges = 1;
    return new ByHand(attempt.dial(), CHARGE, taken, pedalUp);
  }

  @Test
  void goesOnWhenItWasTakenOutPutBackAndThePedalPressedAnew() {
    DialStep out = byHand(false, false).step(at(0).open(InputLine.WORK_SEAT).line());
    assertThat(out.next()).isEqualTo(byHand(true, false));
    assertThat(out.wanted()).isEqualTo(Outputs.high(OutputLine.LAMP_READY));
    assertThat(out.permit()).isFalse();
    DialStep held = out.next().step(at(10).closed(InputLine.START_PEDAL).line());
    assertThat(held.next()).isEqualTo(byHand(true, false));
    DialStep up = held.next().step(at(20).line());
    assertThat(up.next()).isEqualTo(byHand(true, true));

    DialStep pressed = up.next().step(at(30).closed(InputLine.START_PEDAL).line());

    assertQuiet(pressed);
    Settle settle = (Settle) pressed.next();
    assertThat(settle.stage()).isEqualTo("charged");
    assertThat(settle.sinceNs()).isEqualTo(30 * MS);
    assertThat(settle.dial().progress().lastMove()).contains(CHARGE);
  }

  @ParameterizedTest
  @EnumSource(
      names = {"WORK_SEAT", "LID_A", "LID_B", "ARM_KEY", "STOP_LOOP"},
      value = InputLine.class)
  void waitsForEachContact(InputLine line) {
    DialScan scan = at(0).closed(InputLine.START_PEDAL).open(line);

    assertThat(byHand(true, true).step(scan.line()).next()).isEqualTo(byHand(true, false));
    assertThat(byHand(true, true).step(at(0).open(line).line()).next())
        .isEqualTo(byHand(true, false));
  }

  @Test
  void waitsForThePedalAndForTheMagnetToBeTakenOut() {
    assertThat(byHand(true, true).step(at(0).line()).next()).isEqualTo(byHand(true, true));
    assertThat(byHand(false, true).step(at(0).closed(InputLine.START_PEDAL).line()).next())
        .isEqualTo(byHand(false, false));
  }

  @Test
  void asksForTheChargeInWords() {
    ByHand first = byHand(false, false);
    assertThat(first.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    assertThat(first.sentence())
        .isEqualTo(
            "take it out and charge it between the jaws, the face that looks at the gauge north;"
                + " put it back, close the lid and press the pedal");

    Move.Fire south = new Move.Fire(Purpose.CHARGE, new FieldStrength(0), false);
    Attempt weak = new Attempt().reads(0.01);
    weak.charges = 2;
    ByHand again = ByHand.asking(weak.dial(), south);
    assertThat(again.cue().ask()).isEqualTo(HandAsk.CHARGE_SOUTH);
    assertThat(again.sentence()).startsWith("it did not take the charge;").contains("gauge south");
    weak.reads(0.1);
    assertThat(ByHand.asking(weak.dial(), south).sentence()).contains("once more", "prove");
  }

  // Acting.

  private static Acting acting(Attempt attempt, Move.Fire move) {
    return (Acting) Rest.orFire(attempt.dial(), move, at(0).line()).next();
  }

  /** The same, with the gate already closed and the report awaited. */
  private static Acting reported(Attempt attempt, Move.Fire move) {
    Acting begun = acting(attempt, move);
    Act act =
        new PulseState.AwaitReport(((PulseState.AwaitIntent) begun.act()).plan(), 77, 0, false);
    return new Acting(begun.dial(), move, act);
  }

  /** The head's report of the intent, with this peak of the sign that drives south. */
  private static HeadFrame report(int milliAmps) {
    return new HeadFrame.PulseReport(
        9, DialScan.NEXT_NUMBER, 77, 0, milliAmps, 15_000, 14_000, 3_000, true);
  }

  @Test
  void passesOnWhatTheActWants() {
    Acting begun = acting(new Attempt().charged(0.1), KNOCK);
    DialScan durable = at(10);
    durable.ledger = new LedgerState(DialScan.NEXT_NUMBER, Optional.empty());

    DialStep step = begun.step(durable.line());

    assertThat(step.next()).isInstanceOf(Acting.class);
    assertThat(step.permit()).isTrue();
    assertThat(step.wanted().isHigh(OutputLine.COIL_REVERSE)).isTrue();
    assertThat(step.events()).isEmpty();
    Acting asked = reported(new Attempt().charged(0.1), KNOCK);
    assertThat(asked.step(at(501).line()).requests())
        .containsExactly(new HeadRequest.AskPulse(DialScan.NEXT_NUMBER));
  }

  @Test
  void readsAgainAfterADeliveredPulse() {
    Acting acting = reported(new Attempt().charged(0.1), KNOCK);
    ShotPlan plan = (ShotPlan) ((PulseState) acting.act()).plan();
    double expected = plan.expectedPeakAmps();
    int peak = (int) Math.round(expected * 1_100);

    DialStep step = acting.step(at(20).frame(report(peak)).line());

    Settle settle = (Settle) step.next();
    assertThat(settle.stage()).isEqualTo("knocked down");
    assertThat(settle.sinceNs()).isEqualTo(20 * MS);
    Move.Fire delivered = settle.dial().progress().lastMove().orElseThrow();
    assertThat(delivered.field().amperesPerMetre()).isCloseTo(peak * 7.0, within(1e-6));
    assertThat(delivered.drivesNorth()).isFalse();
    assertThat(delivered.purpose()).isEqualTo(Purpose.KNOCK_DOWN);
    assertThat(settle.dial().memory().ratio("series")).isCloseTo(1.1, within(1e-3));
    assertThat(step.wanted()).isEqualTo(Outputs.high(OutputLine.COIL_REVERSE));
    assertThat(step.permit()).isFalse();
    assertThat(step.events())
        .singleElement()
        .isInstanceOfSatisfying(
            ActEvent.PulseEnded.class, ended -> assertThat(ended.outcome()).isEqualTo("delivered"));
  }

  @Test
  void haltsAfterAPulseOfWhichNextToNothingCame() {
    DialStep step =
        reported(new Attempt().charged(0.1), KNOCK).step(at(20).frame(report(1)).line());

    assertThat(step.next())
        .isInstanceOfSatisfying(
            Halted.class,
            halted ->
                assertThat(halted.why())
                    .isEqualTo("pulse misfired: the coil carried next to no current"));
    assertThat(step.next().sentence()).startsWith("halted: pulse misfired");
    assertThat(step.next().step(at(30).line())).isEqualTo(DialStep.quiet(step.next()));
    LedgerEvent.VerdictGiven given =
        (LedgerEvent.VerdictGiven) ((Halted) step.next()).closing().get(0);
    assertThat(given.verdict()).isEqualTo("tripped");
    assertThat(given.why()).startsWith("pulse misfired");
  }

  @Test
  void saysWhatItDoes() {
    Attempt charged = new Attempt().charged(0.1);
    FieldStrength field = new FieldStrength(20_000);

    assertThat(acting(charged, KNOCK).sentence()).isEqualTo("knocking down with 20.0 kA/m");
    assertThat(acting(charged, CHARGE).sentence()).isEqualTo("charging");
    assertThat(acting(charged, new Move.Fire(Purpose.DEMAGNETISE, field, true)).sentence())
        .isEqualTo("demagnetising, now 20.0 kA/m");
    assertThat(acting(charged, new Move.Fire(Purpose.PROOF, field, true)).sentence())
        .isEqualTo("proving that a weaker pulse leaves it alone");
  }

  // Closing after a trip.

  private static List<String> words(Optional<List<LedgerEvent>> closing) {
    return closing.orElseThrow().stream()
        .map(
            event ->
                event instanceof ActEvent.PulseEnded ended
                    ? ended.outcome()
                    : ((LedgerEvent.VerdictGiven) event).verdict())
        .toList();
  }

  @Test
  void closesWithItsVerdictWhereNothingWasFired() {
    assertThat(words(await(new Attempt()).closing(at(0).view(), 0, "lid")))
        .containsExactly("tripped");
    assertThat(words(acting(new Attempt(), CHARGE).closing(at(0).view(), 0, "lid")))
        .containsExactly("not fired", "tripped");
  }

  @Test
  void waitsHalfASecondForTheReportOfAPulseThatATripCutShort() {
    Acting acting = reported(new Attempt().charged(0.1), KNOCK);

    assertThat(acting.closing(at(1_500).view(), 1_000 * MS, "lid")).isEmpty();
    assertThat(words(acting.closing(at(1_501).view(), 1_000 * MS, "lid")))
        .containsExactly("unverified", "tripped");
    assertThat(words(acting.closing(at(1_010).frame(report(4_000)).view(), 1_000 * MS, "lid")))
        .containsExactly("delivered", "tripped");
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
