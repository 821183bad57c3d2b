package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.config.SupplyConfig;
import lodestep.port.ActEvent;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.FieldStrength;
import org.junit.jupiter.api.Test;

/**
 * Goal: the feed of a switched coil is put on for a pulse only after its switch was seen to block
 * and with ladder and changeover set dry. Method: each state is stepped just at and just beyond its
 * limit.
 */
class FeedStateTest {

  private static final long T = 1_000_000_000_000L;
  private static final RigConfig RIG = ShippedRig.read("rig-virtual-switched.toml");
  private static final SupplyConfig SUPPLY = RIG.supply().orElseThrow();
  private static final SwitchedPlan PLAN = plan(5, true);
  private static final Outputs PROOF = Outputs.high(OutputLine.LADDER.get(1));
  private static final Outputs LEVEL =
      Outputs.high(OutputLine.LADDER.get(0), OutputLine.LADDER.get(2));

  private static SwitchedPlan plan(int level, boolean north) {
    return new SwitchedPlan(
        new Order(3, 1, 2, "knock down", north, new FieldStrength(20_000)),
        level,
        2,
        12,
        1.5,
        RIG.coils().get(0),
        SUPPLY,
        RIG.limits());
  }

  /** With the feed relay driven. */
  private static Scans fedAfter(long ns) {
    return after(ns).driven(OutputLine.COIL_ON);
  }

  private static Scans after(long ns) {
    return new Scans(T + ns);
  }

  private static void assertGoes(ActStep step, PulseState next, Outputs wanted) {
    assertThat(step.next()).isEqualTo(next);
    assertThat(step.wanted()).isEqualTo(wanted);
    assertThat(step.permit()).isTrue();
  }

  private static void assertNotFired(ActStep step, String why) {
    PulseResult result = (PulseResult) step.next().result().orElseThrow();
    assertThat(result.outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(result.why()).contains(why);
    assertThat(step.wanted()).isEqualTo(LEVEL);
    assertThat(step.permit()).isFalse();
  }

  @Test
  void setsTheLowLevelDryFirst() {
    long settle = PLAN.limits().relaySettleNs();
    FeedState.SetProof sets = new FeedState.SetProof(PLAN, T, T);
    Scans noPermit = after(settle);
    noPermit.flags &= ~HeadFlag.PERMIT.bit();
    Scans reversed = after(settle).closed(InputLine.REVERSE_CONTACT);

    assertThat(PLAN.prepare(T)).isEqualTo(sets);
    assertGoes(
        sets.step(after(settle).view()),
        new FeedState.Prove(PLAN, T + settle, 0),
        PROOF.and(OutputLine.COIL_ON));
    assertGoes(sets.step(after(settle - 1).view()), sets, PROOF);
    assertGoes(sets.step(noPermit.view()), sets, PROOF);
    assertGoes(sets.step(reversed.view()), new FeedState.SetProof(PLAN, T, T + settle), PROOF);
    long held = PLAN.limits().bankHeldNs();
    Scans late = after(held).closed(InputLine.REVERSE_CONTACT);
    assertThat(sets.step(late.view()).next().result()).isEmpty();
    late.nowNs++;
    assertNotFired(sets.step(late.view()), "not in place");
  }

  @Test
  void looksAtTheDeadCoilForSixtyMillisecondsOfAFeedThatIsNotWithdrawn() {
    FeedState.Prove waits = new FeedState.Prove(PLAN, T, 0);
    FeedState.Prove on = new FeedState.Prove(PLAN, T, T + 5);
    Outputs fed = PROOF.and(OutputLine.COIL_ON);
    long proof = FeedState.PROOF_NS;

    assertGoes(waits.step(fedAfter(5).closed(InputLine.BLEED_CONTACT).view()), waits, fed);
    assertGoes(waits.step(fedAfter(5).view()), on, fed);
    assertGoes(on.step(fedAfter(5 + proof - 1).view()), on, fed);
    assertGoes(
        on.step(fedAfter(5 + proof).view()), new FeedState.LetGo(PLAN, T + 5 + proof), PROOF);
    assertGoes(on.step(fedAfter(9).closed(InputLine.BLEED_CONTACT).view()), waits, fed);
    assertGoes(on.step(after(9).view()), waits, fed);
    long wait = PLAN.limits().reportWaitNs();
    Scans never = fedAfter(wait).closed(InputLine.BLEED_CONTACT);
    assertGoes(waits.step(never.view()), waits, fed);
    never.nowNs++;
    assertGivesUp(waits.step(never.view()), PROOF, FeedState.Lack.FEED_RELAY);
  }

  /** A head that is silent from the feed's contact on has shown nothing of the coil. */
  @Test
  void takesNoSilenceOfTheHeadForADeadCoil() {
    FeedState.Prove on = new FeedState.Prove(PLAN, T, T + 5);
    Outputs fed = PROOF.and(OutputLine.COIL_ON);
    Scans silent = fedAfter(5 + FeedState.PROOF_NS);
    silent.silentNs = FeedState.PROOF_NS - FeedState.RISEN_NS + 1;
    assertGoes(on.step(silent.view()), on, fed);
    silent.silentNs--;
    assertThat(on.step(silent.view()).next()).isInstanceOf(FeedState.LetGo.class);

    Scans never = fedAfter(PLAN.limits().reportWaitNs());
    never.silentNs = never.nowNs - T;
    assertGoes(on.step(never.view()), on, fed);
    never.nowNs++;
    never.silentNs++;
    assertGivesUp(on.step(never.view()), PROOF, FeedState.Lack.UNSEEN);
  }

  @Test
  void doesNotFireWhenTheCoilCarriesCurrentOfEitherSignMeanwhile() {
    int zero = (int) Math.round(PLAN.limits().currentZero().amps() * 1e3);
    FeedState.Prove on = new FeedState.Prove(PLAN, T, T + 5);
    for (int sign : new int[] {1, -1}) {
      Scans scan = fedAfter(FeedState.PROOF_NS + 5);
      scan.coilMilliAmps = sign * zero;
      assertGoes(on.step(scan.view()), new FeedState.LetGo(PLAN, scan.nowNs), PROOF);
      scan.coilMilliAmps = sign * (zero + 1);
      assertGivesUp(on.step(scan.view()), PROOF, FeedState.Lack.BLOCKING);
    }
  }

  @Test
  void movesTheRelaysOnlyOnceTheFeedReadsLow() {
    int low = PLAN.limits().bankLow().milliVolts();
    long wait = PLAN.limits().ledgerWaitNs();
    long steady = FeedState.FEED_STEADY_NS;
    FeedState.LetGo lets = new FeedState.LetGo(PLAN, T);
    FeedState.LetGo off = new FeedState.LetGo(PLAN, T, T + 5, PROOF, FeedState.Lack.NONE);
    Scans dead = after(5).closed(InputLine.BLEED_CONTACT).bank(low);

    assertGoes(lets.step(dead.line()), off, PROOF);
    assertGoes(
        off.step(after(5 + steady - 1).closed(InputLine.BLEED_CONTACT).bank(low).line()),
        off,
        PROOF);
    Scans settled = after(5 + steady).closed(InputLine.BLEED_CONTACT).bank(low);
    assertGoes(
        off.step(settled.line()),
        new FeedState.SetLevel(PLAN, T + 5 + steady, T + 5 + steady),
        LEVEL);
    assertGoes(off.step(settled.view()), off, PROOF);
    assertGoes(off.step(after(5 + steady).bank(low).line()), lets, PROOF);
    assertGoes(off.step(settled.bank(low + 1).line()), off, PROOF);
    assertGoes(lets.step(after(wait).view()), lets, PROOF);
    ActStep never = lets.step(after(wait + 1).view());
    assertThat(((PulseResult) never.next().result().orElseThrow()).why())
        .contains("did not die away");
    assertThat(never.wanted()).isEqualTo(PROOF);
  }

  /** A ladder that moved while the feed's relay still falls would break a current. */
  @Test
  void givesUpOnlyOnceTheFeedIsOffAndThenLeavesTheRelaysAsTheyAre() {
    int low = PLAN.limits().bankLow().milliVolts();
    FeedState.LetGo lets = new FeedState.LetGo(PLAN, T, 0, PROOF, FeedState.Lack.SUPPLY);

    assertThat(lets.resting()).isEqualTo(PROOF);
    assertGoes(lets.step(after(5).bank(low).line()), lets, PROOF);
    FeedState.LetGo off = new FeedState.LetGo(PLAN, T, T + 5, PROOF, FeedState.Lack.SUPPLY);
    ActStep over =
        off.step(
            after(5 + FeedState.FEED_STEADY_NS).closed(InputLine.BLEED_CONTACT).bank(low).line());
    PulseResult result = (PulseResult) over.next().result().orElseThrow();
    assertThat(result.outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(result.why()).isEqualTo("the supply is off or too weak");
    assertThat(over.wanted()).isEqualTo(PROOF);
    assertThat(over.next().resting()).isEqualTo(PROOF);
    assertThat(over.next().step(after(9).view()).wanted()).isEqualTo(PROOF);
    assertThat(over.next().cut("later")).isEqualTo(result);
  }

  private static void assertGivesUp(ActStep step, Outputs keep, FeedState.Lack lack) {
    assertThat(step.wanted()).isEqualTo(keep);
    assertThat(step.next()).isInstanceOf(FeedState.LetGo.class);
    assertThat(((FeedState.LetGo) step.next()).keep()).isEqualTo(keep);
    assertThat(((FeedState.LetGo) step.next()).lack()).isEqualTo(lack);
    assertThat(step.next().result()).isEmpty();
  }

  @Test
  void putsTheFeedOnAtTheSettledLevelAndAsksForATokenWhenItStands() {
    long settle = PLAN.limits().relaySettleNs();
    long wait = PLAN.limits().ledgerWaitNs();
    FeedState.SetLevel sets = new FeedState.SetLevel(PLAN, T, T);
    Outputs fed = LEVEL.and(OutputLine.COIL_ON);

    assertGoes(
        sets.step(after(settle).view()), new FeedState.FeedOn(PLAN, T + settle, T + settle), fed);
    assertGoes(sets.step(after(settle - 1).view()), sets, LEVEL);
    Scans reversed = after(wait).closed(InputLine.REVERSE_CONTACT);
    assertGoes(sets.step(reversed.view()), new FeedState.SetLevel(PLAN, T, T + wait), LEVEL);
    reversed.nowNs++;
    assertNotFired(sets.step(reversed.view()), "not in place");

    FeedState.FeedOn on = new FeedState.FeedOn(PLAN, T, T);
    int half = SUPPLY.voltage().milliVolts() / 2;
    long steady = FeedState.FEED_STEADY_NS;
    ActStep asks = on.step(fedAfter(steady).bank(half).view());
    assertGoes(asks, new PulseState.AwaitToken(PLAN, T + steady), fed);
    assertThat(asks.requests()).containsExactly(new HeadRequest.AskToken(12));
    assertGoes(on.step(fedAfter(steady - 1).bank(half).view()), on, fed);
    FeedState.FeedOn anew = new FeedState.FeedOn(PLAN, T, T + steady);
    assertGoes(on.step(fedAfter(steady).bank(half - 1).view()), anew, fed);
    Scans off = fedAfter(steady).closed(InputLine.BLEED_CONTACT).bank(half);
    assertGoes(on.step(off.view()), anew, fed);
    assertGoes(on.step(after(steady).bank(half).view()), anew, fed);
    long report = PLAN.limits().reportWaitNs();
    assertGoes(on.step(fedAfter(report).view()), new FeedState.FeedOn(PLAN, T, T + report), fed);
    assertGivesUp(on.step(fedAfter(report + 1).view()), LEVEL, FeedState.Lack.SUPPLY);
  }

  @Test
  void bridgesTheLadderForAChargeAndReversesForTheOtherWay() {
    assertThat(plan(0, true).relays()).isEqualTo(Outputs.high(OutputLine.COIL_FULL));
    assertThat(plan(0, true).answer()).isEqualTo("charging");
    assertThat(PLAN.answer()).isEqualTo("ladder");
    assertThat(PLAN.full()).isFalse();
    assertThat(plan(5, false).relays()).isEqualTo(LEVEL.and(OutputLine.COIL_REVERSE));
    assertThat(plan(5, false).preparing()).isEqualTo(PROOF.and(OutputLine.COIL_REVERSE));
    assertThat(PLAN.fireForNs()).isEqualTo(SUPPLY.onTimeNs());
    assertThat(PLAN.highestMilliVolts())
        .isEqualTo((int) Math.round(SUPPLY.voltage().volts() * 1040));
    assertThat(PLAN.secondsToMeet(after(5).bank(50_000).view())).isZero();
    assertThat(PLAN.intent())
        .isEqualTo(
            new ActEvent.SwitchedPulseIntended(
                3,
                1,
                2,
                "knock down",
                true,
                false,
                5,
                SUPPLY.onTimeNs() / 1_000,
                SUPPLY.voltage().milliVolts(),
                20_000,
                1_500,
                PLAN.coil().name()));
  }

  /** Else the feed relay would open under current, and its contacts weld. */
  @Test
  void keepsTheFeedOnUntilTheCoilIsDead() {
    PulseState.AwaitReport waits = new PulseState.AwaitReport(PLAN, 77, T, false);
    int zero = (int) Math.round(PLAN.limits().currentZero().amps() * 1e3);
    Scans scan = after(5);
    scan.coilMilliAmps = -zero - 1;
    assertThat(waits.step(scan.view()).wanted()).isEqualTo(LEVEL.and(OutputLine.COIL_ON));
    assertThat(waits.step(scan.view()).permit()).isTrue();
    scan.coilMilliAmps = -zero;
    assertThat(waits.step(scan.view()).wanted()).isEqualTo(LEVEL);
    assertThat(waits.step(scan.view()).permit()).isFalse();
  }

  @Test
  void recordsWhatTheHeadMeasuredAndLearnsFromDeliveredPulsesAlone() {
    HeadFrame.PulseReport report =
        new HeadFrame.PulseReport(9, 12, 77, 1_400, 20, 24_000, 23_000, 900, true);
    PulseResult result = new PulseResult(PLAN, Outcome.DELIVERED, 77, Optional.of(report), "");
    PulseResult south =
        new PulseResult(plan(5, false), Outcome.MISFIRED, 77, Optional.of(report), "weak");

    assertThat(result.field().amperesPerMetre())
        .isCloseTo(1.4 * PLAN.coil().fieldPerAmp(), within(1e-6));
    assertThat(result.lesson()).contains(new ActResult.Lesson("ladder", 1_400 * 1e-3, 1.5));
    assertThat(south.lesson()).isEmpty();
    assertThat(south.field().amperesPerMetre())
        .isCloseTo(0.02 * PLAN.coil().fieldPerAmp(), within(1e-6));
    assertThat(new PulseResult(PLAN, Outcome.UNVERIFIED, 77, Optional.empty(), "").field())
        .isEqualTo(new FieldStrength(0));
    assertThat(result.entry(after(5).view()))
        .isEqualTo(
            new ActEvent.PulseEnded(
                12, 3, "delivered", 77, 9, 24_000, 23_000, 1_400, 20, 900, 2_500, ""));
  }
}
