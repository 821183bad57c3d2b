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
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Goal: what follows from one view while an attempt rests, waits for a hand or acts. */
class DialActsTest {

  private static final long MS = DialScan.MS;

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
    assertThat(byHand.next()).isInstanceOf(ChargeByHand.class);
    assertThat(byHand.next().dial().progress().counts().charges()).isEqualTo(1);
    // A charge by the coil and a knock-down beside a charge by hand do.
    assertThat(Rest.orFire(new Attempt().dial(), CHARGE, at(0).coilAt(60).line()).next())
        .isInstanceOf(Rest.class);
    assertThat(Rest.orFire(attempt.dial(), KNOCK, at(0).coilAt(60).line()).next())
        .isInstanceOf(Rest.class);
  }

  // By hand.

  private static ChargeByHand byHand(boolean taken, boolean pedalUp) {
    Attempt attempt = new Attempt();
    attempt.charge = Optional.empty();
    attempt.charges = 1;
    return new ChargeByHand(attempt.dial(), CHARGE, taken, pedalUp);
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
    ChargeByHand first = byHand(false, false);
    assertThat(first.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    assertThat(first.sentence())
        .isEqualTo(
            "take it out and charge it between the jaws, the face that looks at the gauge north;"
                + " put it back, close the lid and press the pedal");

    Move.Fire south = new Move.Fire(Purpose.CHARGE, new FieldStrength(0), false);
    Attempt weak = new Attempt().reads(0.01);
    weak.charges = 2;
    ChargeByHand again = ChargeByHand.asking(weak.dial(), south);
    assertThat(again.cue().ask()).isEqualTo(HandAsk.CHARGE_SOUTH);
    assertThat(again.sentence()).startsWith("it did not take the charge;").contains("gauge south");
    weak.reads(0.1);
    assertThat(ChargeByHand.asking(weak.dial(), south).sentence()).contains("once more", "prove");
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
    assertThat(words(new AwaitMove(new Attempt().dial(), 0, 0).closing(at(0).view(), 0, "lid")))
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
}
