package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Optional;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.port.ActEvent;
import lodestep.port.InputLine;
import lodestep.port.LedgerState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;

/**
 * Goal: a pulse goes from state to state on what it has seen, gives up just after each of its
 * limits and not before, and is never recorded as what it was not. Method: each state is stepped
 * just at and just beyond its limit.
 */
class PulseStateTest {

  private static final long T = 1_000_000_000_000L;
  private static final long INTENT = 12;
  private static final RigConfig RIG = ReferenceRig.virtual();
  private static final ShotPlan PLAN = plan(true);

  private static ShotPlan plan(boolean north) {
    return new ShotPlan(
        new Order(3, 1, 1, "charge", north, new FieldStrength(500_000)),
        new Pulse(north, true, new Voltage(40), new Voltage(41)),
        INTENT,
        100,
        RIG.coils().get(0),
        RIG.bank(),
        RIG.limits());
  }

  private static Scans after(long ns) {
    return new Scans(T + ns);
  }

  private static Outputs high(OutputLine... more) {
    Outputs outputs = Outputs.high(OutputLine.COIL_FULL);
    for (OutputLine line : more) {
      outputs = outputs.and(line);
    }
    return outputs;
  }

  private static PulseResult resultOf(ActStep step) {
    assertThat(step.wanted()).isEqualTo(high());
    assertThat(step.permit()).isFalse();
    return (PulseResult) step.next().result().orElseThrow();
  }

  private static void assertNotFired(ActStep step, String why) {
    PulseResult result = resultOf(step);
    assertThat(result.outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(result.why()).contains(why);
  }

  private static void assertHolds(ActStep step, Class<? extends Act> next) {
    assertThat(step.next()).isInstanceOf(next);
    assertThat(step.wanted()).isEqualTo(high(OutputLine.BANK_HOLD));
    assertThat(step.permit()).isTrue();
    assertThat(step.next().result()).isEmpty();
  }

  private static HeadFrame.PulseReport report(
      long intent, int forward, int reverse, boolean fired) {
    return new HeadFrame.PulseReport(9, intent, 77, forward, reverse, 40_000, 3_000, 900, fired);
  }

  @Test
  void energisesNothingBeforeTheIntentIsOnDisk() {
    PulseState waits = PulseState.begin(PLAN, T);
    Scans early = after(PLAN.limits().ledgerWaitNs());
    early.ledger = new LedgerState(INTENT - 1, Optional.empty());
    Scans durable = after(5);
    durable.ledger = new LedgerState(INTENT, Optional.empty());
    Scans broken = after(5);
    broken.ledger = new LedgerState(INTENT, Optional.of("full"));

    assertThat(waits.step(early.view()).wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(waits.step(early.view()).next()).isEqualTo(waits);
    assertThat(waits.step(early.view()).permit()).isFalse();
    assertThat(waits.step(durable.view()).next()).isInstanceOf(FillState.SetRelays.class);
    assertThat(waits.step(durable.view()).wanted()).isEqualTo(high());
    assertThat(waits.step(durable.view()).permit()).isTrue();
    early.nowNs++;
    assertNotFired(waits.step(early.view()), "not on disk in time");
    assertNotFired(waits.step(broken.view()), "full");
  }

  @Test
  void holdsTheBankOnlyWithTheRelaysInPlaceForLongEnoughAndThePermit() {
    long settle = PLAN.limits().relaySettleNs();
    FillState.SetRelays sets = new FillState.SetRelays(PLAN, T, T);
    Scans placed = after(settle).closed(InputLine.FULL_CONTACT).says(HeadFlag.FULL_CONTACT);
    assertHolds(sets.step(placed.view()), FillState.OpenBleed.class);
    placed.nowNs--;
    assertThat(sets.step(placed.view()).next()).isEqualTo(sets);
    assertThat(sets.step(placed.view()).wanted()).isEqualTo(high());
    assertThat(sets.step(placed.view()).permit()).isTrue();
    placed.nowNs++;
    placed.flags &= ~HeadFlag.PERMIT.bit();
    assertThat(sets.step(placed.view()).next()).isEqualTo(sets);
  }

  @Test
  void countsTheRelaysAsInPlaceOnlyWhereHostAndHeadSeeBothSo() {
    long settle = PLAN.limits().relaySettleNs();
    FillState.SetRelays sets = new FillState.SetRelays(PLAN, T, T);
    Scans hostAlone = after(settle).closed(InputLine.FULL_CONTACT);
    Scans headAlone = after(settle).says(HeadFlag.FULL_CONTACT);
    Scans reversed =
        after(settle)
            .closed(InputLine.FULL_CONTACT, InputLine.REVERSE_CONTACT)
            .says(HeadFlag.FULL_CONTACT);
    Scans reversedAtHead =
        after(settle)
            .closed(InputLine.FULL_CONTACT)
            .says(HeadFlag.FULL_CONTACT, HeadFlag.REVERSE_CONTACT);

    FillState.SetRelays anew = new FillState.SetRelays(PLAN, T, T + settle);
    assertThat(sets.step(hostAlone.view()).next()).isEqualTo(anew);
    assertThat(sets.step(headAlone.view()).next()).isEqualTo(anew);
    assertThat(sets.step(reversed.view()).next()).isEqualTo(anew);
    assertThat(sets.step(reversedAtHead.view()).next()).isEqualTo(anew);
  }

  @Test
  void givesUpWaitingForRelaysBleedContactBankAndFall() {
    long held = PLAN.limits().bankHeldNs();
    PulseState[] waits = {
      new FillState.SetRelays(PLAN, T, T),
      new FillState.OpenBleed(PLAN, T),
      new FillState.Fill(PLAN, T, 0, 0)
    };
    for (PulseState state : waits) {
      Scans scan = after(held).closed(InputLine.BLEED_CONTACT).bank(1_000);
      assertThat(state.step(scan.view()).next().result()).as("%s", state).isEmpty();
      scan.nowNs++;
      assertNotFired(state.step(scan.view()), "");
    }
    FillState.Fall falls = new FillState.Fall(PLAN, T);
    assertHolds(falls.step(after(held).bank(45_000).view()), FillState.Fall.class);
    assertNotFired(falls.step(after(held + 1).bank(45_000).view()), "did not fall");
  }

  @Test
  void fillsOnlyOnceTheBleedContactIsOpen() {
    FillState.OpenBleed opens = new FillState.OpenBleed(PLAN, T);
    ActStep open = opens.step(after(5).view());

    assertHolds(
        opens.step(after(5).closed(InputLine.BLEED_CONTACT).view()), FillState.OpenBleed.class);
    assertThat(open.next()).isEqualTo(new FillState.Fill(PLAN, T + 5, 0, 0));
    assertThat(open.wanted()).isEqualTo(high(OutputLine.BANK_HOLD, OutputLine.BANK_FILL));
    assertThat(open.permit()).isTrue();
  }

  /** Four parts in a thousand above the asked 40 V, less what the relay's release will add. */
  @Test
  void endsTheFillingAheadByTheRiseSeenBetweenTwoLines() {
    FillState.Fill fills = new FillState.Fill(PLAN, T, 0, 0);
    assertThat(fills.step(after(5).bank(40_159).line()).next())
        .isEqualTo(new FillState.Fill(PLAN, T, 40_159, 0));
    assertHolds(fills.step(after(5).bank(40_160).line()), FillState.FillOpens.class);

    FillState.Fill rising = new FillState.Fill(PLAN, T, 39_960, 0);
    // 100 mV in the 10 ms of a line are 150 mV in the 15 ms of the release.
    assertHolds(
        new FillState.Fill(PLAN, T, 39_910, 0).step(after(5).bank(40_010).line()),
        FillState.FillOpens.class);
    assertThat(rising.step(after(5).bank(40_000).line()).next())
        .isEqualTo(new FillState.Fill(PLAN, T, 40_000, 4_000));
    assertThat(rising.step(after(5).bank(40_000).line()).wanted())
        .isEqualTo(high(OutputLine.BANK_HOLD, OutputLine.BANK_FILL));
    assertThat(rising.step(after(5).bank(39_900).line()).next())
        .isEqualTo(new FillState.Fill(PLAN, T, 39_900, 0));
    assertThat(rising.step(after(5).bank(40_000).view()).next()).isEqualTo(rising);
  }

  @Test
  void topsUpABankThatFellShortAndGoesOnWhenTheFillRelayHasLetGo() {
    FillState.FillOpens opens = new FillState.FillOpens(PLAN, T);
    long steady = 30_000_000L;
    Scans scan = after(steady).closed(InputLine.FILL_CONTACT).bank(40_000);

    assertHolds(opens.step(scan.line()), FillState.Fall.class);
    assertHolds(opens.step(scan.view()), FillState.FillOpens.class);
    assertThat(opens.step(scan.bank(39_999).line()).next())
        .isEqualTo(new FillState.Fill(PLAN, T + steady, 0, 0));
    assertThat(opens.step(scan.line()).wanted())
        .isEqualTo(high(OutputLine.BANK_HOLD, OutputLine.BANK_FILL));
    scan.nowNs--;
    assertHolds(opens.step(scan.bank(40_000).line()), FillState.FillOpens.class);
    assertHolds(opens.step(after(steady).bank(40_000).line()), FillState.FillOpens.class);
  }

  /** A bank C with the bleeder R falls from V to v in R C ln(V / v): a handbook's RC discharge. */
  @Test
  void asksForTheTokenAQuarterOfASecondAheadAndForTheWindowTwentyMilliseconds() {
    double seconds = RIG.bank().capacitanceFarads() * RIG.bank().bleederOhms();
    int tokenAt = (int) (40_000 * Math.exp(0.25 / seconds));
    FillState.Fall falls = new FillState.Fall(PLAN, T);
    ActStep asks = falls.step(after(5).bank(tokenAt - 1).view());

    assertHolds(falls.step(after(5).bank(tokenAt + 2).view()), FillState.Fall.class);
    assertHolds(asks, PulseState.AwaitToken.class);
    assertThat(asks.requests()).containsExactly(new HeadRequest.AskToken(INTENT));

    int windowAt = (int) (40_000 * Math.exp(0.020 / seconds));
    PulseState.Meet meets = new PulseState.Meet(PLAN, 77, T);
    ActStep opens = meets.step(after(5).bank(windowAt - 1).view());
    assertHolds(meets.step(after(5).bank(windowAt + 2).view()), PulseState.Meet.class);
    assertHolds(opens, PulseState.AwaitWindow.class);
    assertThat(opens.requests()).containsExactly(new HeadRequest.OpenWindow(77, INTENT, 41_000));
    long old = PLAN.limits().reportWaitNs();
    assertHolds(meets.step(after(old).bank(45_000).view()), PulseState.Meet.class);
    assertNotFired(meets.step(after(old + 1).bank(45_000).view()), "too old");
  }

  @Test
  void takesTheTokenOfItsOwnIntentAlone() {
    PulseState.AwaitToken waits = new PulseState.AwaitToken(PLAN, T);
    long limit = PLAN.limits().reportWaitNs();

    assertThat(waits.step(after(5).view(new HeadFrame.TokenGrant(9, 77, INTENT))).next())
        .isEqualTo(new PulseState.Meet(PLAN, 77, T + 5));
    assertHolds(
        waits.step(after(limit).view(new HeadFrame.TokenGrant(9, 77, INTENT + 1))),
        PulseState.AwaitToken.class);
    assertNotFired(waits.step(after(limit + 1).view()), "did not answer");
    assertNotFired(waits.step(after(5).view(refused(INTENT))), "no token");
    assertHolds(waits.step(after(5).view(refused(INTENT + 1))), PulseState.AwaitToken.class);
  }

  private static HeadFrame refused(long intent) {
    return new HeadFrame.Refused(9, RefusalReason.NOT_SAFE, intent);
  }

  @Test
  void raisesTheGateOnlyOnANewLineThatShowsTheWindow() {
    PulseState.AwaitWindow waits = new PulseState.AwaitWindow(PLAN, 77, T);
    long limit = PLAN.limits().windowWaitNs();
    ActStep fires = waits.step(after(5).says(HeadFlag.WINDOW).line());

    assertThat(fires.next()).isEqualTo(new PulseState.Fire(PLAN, 77, T + 5, 0));
    assertThat(fires.wanted()).isEqualTo(high(OutputLine.BANK_HOLD, OutputLine.COIL_FIRE));
    assertThat(fires.permit()).isTrue();
    assertHolds(
        waits.step(after(limit).says(HeadFlag.WINDOW).view()), PulseState.AwaitWindow.class);
    assertHolds(waits.step(after(limit).line()), PulseState.AwaitWindow.class);
    assertNotFired(waits.step(after(limit + 1).line()), "did not open");
    assertNotFired(waits.step(after(5).says(HeadFlag.WINDOW).line(refused(INTENT))), "refused");
  }

  @Test
  void lowersTheGateAfterItsTimeFromTheReadBack() {
    PulseState.Fire fires = new PulseState.Fire(PLAN, 77, T, 0);
    Scans high = after(5).driven(OutputLine.COIL_FIRE);
    PulseState.Fire driven = new PulseState.Fire(PLAN, 77, T, T + 5);
    Outputs gate = high(OutputLine.BANK_HOLD, OutputLine.COIL_FIRE);

    assertThat(fires.step(high.view()).next()).isEqualTo(driven);
    assertThat(fires.step(high.view()).wanted()).isEqualTo(gate);
    long limit = PLAN.limits().windowWaitNs();
    assertThat(fires.step(after(limit).view()).next()).isEqualTo(fires);
    assertNotFired(fires.step(after(limit + 1).view()), "not allowed in time");
    long fireFor = PLAN.limits().fireForNs();
    assertThat(driven.step(after(5 + fireFor - 1).view()).next()).isEqualTo(driven);
    ActStep lowered = driven.step(after(5 + fireFor).view());
    assertThat(lowered.next())
        .isEqualTo(new PulseState.AwaitReport(PLAN, 77, T + 5 + fireFor, false));
    assertThat(lowered.wanted()).isEqualTo(high());
    assertThat(lowered.permit()).isFalse();
    PulseResult cut = (PulseResult) fires.cut("a trip");
    assertThat(cut.outcome()).isEqualTo(Outcome.UNVERIFIED);
    assertThat(cut.token()).isEqualTo(77);
  }

  @Test
  void asksOnceForALostReportAndThenCallsThePulseUnverified() {
    PulseState.AwaitReport waits = new PulseState.AwaitReport(PLAN, 77, T, false);
    long limit = PLAN.limits().reportWaitNs();
    ActStep asks = waits.step(after(limit + 1).view());

    assertThat(waits.step(after(limit).view()).next()).isEqualTo(waits);
    assertThat(waits.step(after(limit).view()).requests()).isEmpty();
    assertThat(asks.requests()).containsExactly(new HeadRequest.AskPulse(INTENT));
    assertThat(asks.next()).isEqualTo(new PulseState.AwaitReport(PLAN, 77, T + limit + 1, true));
    PulseState.AwaitReport asked = new PulseState.AwaitReport(PLAN, 77, T, true);
    assertThat(asked.step(after(limit).view()).next()).isEqualTo(asked);
    assertThat(resultOf(asked.step(after(limit + 1).view())).outcome())
        .isEqualTo(Outcome.UNVERIFIED);
    assertThat(((PulseResult) waits.cut("a trip")).outcome()).isEqualTo(Outcome.UNVERIFIED);
  }

  @Test
  void judgesTheReportOfItsOwnIntentByTheSignItAskedFor() {
    PulseState.AwaitReport waits = new PulseState.AwaitReport(PLAN, 77, T, false);
    PulseState.AwaitReport south = new PulseState.AwaitReport(plan(false), 77, T, false);
    HeadFrame other = report(INTENT + 1, 120_000, 0, true);
    PulseResult delivered =
        resultOf(waits.step(after(5).view(other, report(INTENT, 10_000, 0, true))));

    assertThat(delivered.outcome()).isEqualTo(Outcome.DELIVERED);
    assertThat(delivered.token()).isEqualTo(77);
    assertThat(resultOf(waits.step(after(5).view(report(INTENT, 9_999, 90_000, true)))).outcome())
        .isEqualTo(Outcome.MISFIRED);
    assertThat(resultOf(waits.step(after(5).view(report(INTENT, 90_000, 0, false)))).outcome())
        .isEqualTo(Outcome.UNVERIFIED);
    assertThat(waits.step(after(5).view(other)).next()).isEqualTo(waits);
    ActStep ended = south.step(after(5).view(report(INTENT, 0, 90_000, true)));
    assertThat(((PulseResult) ended.next().result().orElseThrow()).outcome())
        .isEqualTo(Outcome.DELIVERED);
    assertThat(ended.wanted()).isEqualTo(high(OutputLine.COIL_REVERSE));
  }

  @Test
  void isNotFiredWhenCutBeforeTheGateAndStaysWhatItWasOnceOver() {
    PulseResult cut = (PulseResult) new FillState.Fall(PLAN, T).cut("a trip");
    PulseState.Ended over = new PulseState.Ended(PLAN, cut);

    assertThat(cut.outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(cut.why()).isEqualTo("a trip");
    assertThat(over.cut("later")).isEqualTo(cut);
    assertThat(over.step(after(5).view()).next()).isEqualTo(over);
    assertThat(over.resting()).isEqualTo(high());
  }

  /** The head may report before the gate's time is over: the pulse ended by itself. */
  @Test
  void endsWithAReportThatComesWhileTheGateIsHigh() {
    PulseState.Fire fires = new PulseState.Fire(PLAN, 77, T, T + 5);
    PulseResult ended = resultOf(fires.step(after(9).view(report(INTENT, 90_000, 0, true))));

    assertThat(ended.outcome()).isEqualTo(Outcome.DELIVERED);
    assertThat(ended.token()).isEqualTo(77);
  }

  @Test
  void findsALaterReportOfItsOwnIntentAndNoOther() {
    PulseState.AwaitIntent state = new PulseState.AwaitIntent(PLAN, T);
    PulseResult found =
        (PulseResult) state.reported(after(5).view(report(INTENT, 90_000, 0, true))).orElseThrow();

    assertThat(found.token()).as("the report's own").isEqualTo(77);
    assertThat(found.outcome()).isEqualTo(Outcome.DELIVERED);
    assertThat(state.reported(after(5).view(report(INTENT + 1, 90_000, 0, true)))).isEmpty();
    assertThat(state.result()).isEmpty();
    assertThat(state.aside()).isEmpty();
  }

  @Test
  void recordsWhatItMeansToDo() {
    assertThat(new PulseState.AwaitIntent(PLAN, T).intent())
        .isEqualTo(
            new ActEvent.PulseIntended(
                3,
                1,
                1,
                "charge",
                true,
                true,
                40_000,
                41_000,
                500_000,
                100_000,
                PLAN.coil().name()));
    assertThat(PLAN.answer()).isEqualTo(PLAN.pulse().range()).isNotEmpty();
    Pulse weak = new Pulse(true, false, new Voltage(5), new Voltage(5));
    assertThat(weak.range()).isNotEqualTo(PLAN.pulse().range()).isNotEmpty();
    assertThat(PLAN.secondsToMeet(after(5).bank(39_000).view())).as("already below").isZero();
    assertThatThrownBy(() -> new Pulse(true, false, new Voltage(5), new Voltage(4.99)))
        .isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new Pulse(true, false, new Voltage(0), new Voltage(5)))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void takesNoOtherFrameForANewLine() {
    PulseState.AwaitWindow waits = new PulseState.AwaitWindow(PLAN, 77, T);

    assertHolds(
        waits.step(after(5).says(HeadFlag.WINDOW).view(refused(INTENT + 1))),
        PulseState.AwaitWindow.class);
  }
}
